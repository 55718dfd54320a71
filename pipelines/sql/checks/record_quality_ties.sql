with readings as (

    select * from stg_readings

),

findings as (

    select * from stg_findings

),

by_source as (

    select * from readings_judged

),

by_column as (

    select * from missing_values

),

by_reason as (

    select * from doubts

),

nulls_counted as (

    -- One look at all columns counts the readings too.
    select
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
    from readings

),

nulls as (

    unpivot nulls_counted on columns(* exclude (readings)) into name column_name value missing

),

lake as (

    select
        readings,
        (select count(*) from findings where finding <> 'cannot_judge') as judged
    from nulls_counted

),

totals as (

    select
        'readings by crew, month and source' as detail,
        (select coalesce(sum(readings), 0) from by_source) as counted,
        readings as expected
    from lake
    union all
    select
        'judged by crew, month and source',
        (select coalesce(sum(judged), 0) from by_source),
        judged
    from lake
    union all
    select
        'readings that cannot be judged, by first reason',
        (select coalesce(sum(first_named), 0) from by_reason),
        readings - judged
    from lake
    union all
    select
        'missing ' || nulls.column_name,
        coalesce(sum(by_column.missing), 0),
        any_value(nulls.missing)
    from nulls
    left join by_column on nulls.column_name = by_column.column_name
    group by nulls.column_name

)

select
    detail,
    counted::integer as counted,
    expected::integer as expected
from totals
where counted <> expected
order by detail
