-- Mean and sample standard deviation from a count, a sum and a sum of squares of whole thousandths; NULL where there are too few.
-- n Σx² − (Σx)² is a whole number, so nothing cancels and the order of adding does not matter.
create or replace macro mean_of(n, total) as
    case when n > 0 then round(total / (1000.0::double * n), 6) end;

create or replace macro sd_of(n, total, squares) as
    case when n > 1 then round(sqrt((n::hugeint * squares - total::hugeint * total)::double / (n::double * (n - 1))) / 1000, 6) end;
