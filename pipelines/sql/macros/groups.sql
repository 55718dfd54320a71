-- Groups that several queries share.
-- The text of a day begins with its month; twice as quick as strftime.
create or replace macro month_of(day) as left(day::date::varchar, 7);

create or replace macro season_of(day) as
    case
        when month(day) in (12, 1, 2) then 'winter'
        when month(day) in (3, 4, 5) then 'spring'
        when month(day) in (6, 7, 8) then 'summer'
        when month(day) in (9, 10, 11) then 'autumn'
    end;

-- Sizes are sold in half tons; anything between goes to the nearest.
create or replace macro size_band_of(tons) as
    coalesce((round(tons * 2) / 2)::decimal(9, 1)::varchar, 'unknown');

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

-- Bands of 10 °F; a gauge test needs 55 °F, so the lowest says that it was colder.
create or replace macro outdoor_band_of(outdoor_f) as
    case
        when outdoor_f is null then 'unknown'
        when outdoor_f < 55 then 'under 55'
        when outdoor_f < 65 then '55 to 64'
        when outdoor_f < 75 then '65 to 74'
        when outdoor_f < 85 then '75 to 84'
        when outdoor_f < 95 then '85 to 94'
        else '95 and more'
    end;

-- The dimensions a row of a cube is grouped by, in this order: what it is not grouped by is NULL; what was not written is unknown.
create or replace macro dimensions_grouped(blower_motor, crew_id, duct_location, install_month, metering, outdoor_band, refrigerant, season, size_band) as
    list_filter([
        {'name': 'blower_motor', 'value': blower_motor},
        {'name': 'crew_id', 'value': crew_id},
        {'name': 'duct_location', 'value': duct_location},
        {'name': 'install_month', 'value': install_month},
        {'name': 'metering', 'value': metering},
        {'name': 'outdoor_band', 'value': outdoor_band},
        {'name': 'refrigerant', 'value': refrigerant},
        {'name': 'season', 'value': season},
        {'name': 'size_band', 'value': size_band}
    ], lambda d: d.value is not null);
