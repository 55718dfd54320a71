-- Rows counted already, added up where a condition holds.
create or replace macro sum_where(n, condition) as coalesce(sum(n) filter (where condition), 0)::integer;
