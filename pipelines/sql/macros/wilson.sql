-- Share of hits in n, and the 95 % score interval of Wilson (1927), J. Am. Stat. Assoc. 22:209, as given by
-- Newcombe (1998), Stat. Med. 17:857, method 3:
-- (2np + z² ± z √(z² + 4np(1 − p))) / (2(n + z²)), z = 1.959964.
-- Rounded to 6 places, so that a file has the same bytes wherever it is made; NULL when n is 0.
create or replace macro share(hits, n) as
    case when n > 0 then round(hits / n::double, 6) end;

-- Doubles throughout: a bare literal is a DECIMAL, which overflows on large counts.
create or replace macro wilson_low(hits, n) as
    case when n > 0 then greatest(0.0::double, round(
        (2 * hits::double + 3.841458820694124e0 - 1.959963984540054e0 * sqrt(3.841458820694124e0 + 4 * hits::double * (1 - hits / n::double)))
        / (2 * (n::double + 3.841458820694124e0)), 6)) end;

create or replace macro wilson_high(hits, n) as
    case when n > 0 then least(1.0::double, round(
        (2 * hits::double + 3.841458820694124e0 + 1.959963984540054e0 * sqrt(3.841458820694124e0 + 4 * hits::double * (1 - hits / n::double)))
        / (2 * (n::double + 3.841458820694124e0)), 6)) end;
