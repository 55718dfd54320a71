-- Groups that several queries share.
create or replace macro month_of(day) as strftime(day, '%Y-%m');

create or replace macro season_of(day) as
    case
        when month(day) in (12, 1, 2) then 'winter'
        when month(day) in (3, 4, 5) then 'spring'
        when month(day) in (6, 7, 8) then 'summer'
        when month(day) in (9, 10, 11) then 'autumn'
    end;

-- Sizes are sold in half tons; anything between goes to the nearest.
create or replace macro size_band_of(tons) as
    coalesce(printf('%.1f', round(tons * 2) / 2), 'unknown');

-- Bands of 25 ft; the last is open.
create or replace macro line_set_band_of(feet) as
    case
        when feet is null then 'unknown'
        when feet < 25 then 'under 25'
        when feet < 50 then '25 to 49'
        when feet < 75 then '50 to 74'
        else '75 and more'
    end;

create or replace macro finding_group_of(finding) as
    case
        when finding in ('airflow_high', 'airflow_low') then 'airflow'
        when finding in ('charge_low', 'charge_high') then 'charge'
        when finding in ('in_line', 'cannot_judge') then finding
        when finding is not null then 'other'
    end;
