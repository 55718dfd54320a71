with set_aside_values as (

    select * from stg_set_aside_values

),

nulls_counted as (

    select
        crew_id,
        last_day(visited_on) as month_end,
        count(*) as readings,
        count(*) - count(phase) as phase,
        count(*) - count(minutes_running) as minutes_running,
        count(*) - count(blower_tap) as blower_tap,
        count(*) - count(filter_state) as filter_state,
        count(*) - count(outdoor_db_f) as outdoor_db_f,
        count(*) - count(return_db_f) as return_db_f,
        count(*) - count(return_wb_f) as return_wb_f,
        count(*) - count(return_rh_pct) as return_rh_pct,
        count(*) - count(supply_db_f) as supply_db_f,
        count(*) - count(supply_wb_f) as supply_wb_f,
        count(*) - count(supply_rh_pct) as supply_rh_pct,
        count(*) - count(suction_pressure_psig) as suction_pressure_psig,
        count(*) - count(liquid_pressure_psig) as liquid_pressure_psig,
        count(*) - count(suction_line_f) as suction_line_f,
        count(*) - count(liquid_line_f) as liquid_line_f,
        count(*) - count(discharge_line_f) as discharge_line_f,
        count(*) - count(external_static_inwc) as external_static_inwc,
        count(*) - count(return_static_inwc) as return_static_inwc,
        count(*) - count(supply_static_inwc) as supply_static_inwc,
        count(*) - count(airflow_cfm) as airflow_cfm,
        count(*) - count(airflow_method) as airflow_method,
        count(*) - count(system_power_w) as system_power_w,
        count(*) - count(blower_power_w) as blower_power_w
    from stg_readings
    group by all

),

by_column as (

    unpivot nulls_counted on columns(* exclude (crew_id, month_end, readings)) into name column_name value missing

),

aside as (

    select distinct
        visit_id,
        reading_no,
        column_name
    from set_aside_values
    where visit_id is not null and reading_no is not null

),

aside_counted as (

    select
        readings.crew_id,
        last_day(readings.visited_on) as month_end,
        aside.column_name,
        count(*) as set_aside
    from aside
    join stg_readings as readings using (visit_id, reading_no)
    group by all

)

select
    by_column.crew_id,
    month_of(by_column.month_end) as month,
    by_column.column_name,
    by_column.readings,
    by_column.missing,
    coalesce(aside_counted.set_aside, 0) as set_aside,
    by_column.missing - coalesce(aside_counted.set_aside, 0) as not_written,
    share(by_column.missing, by_column.readings) as rate,
    wilson_low(by_column.missing, by_column.readings) as rate_low,
    wilson_high(by_column.missing, by_column.readings) as rate_high
from by_column
left join aside_counted using (crew_id, month_end, column_name)
order by crew_id, month, column_name
