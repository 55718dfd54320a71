with readings as (

    select * from stg_readings

),

findings as (

    select * from stg_findings

),

metrics as (

    select * from stg_metrics

),

installs as (

    select * from stg_installs

),

values_counted as (

    select * from int_values_counted

),

joined as (

    select
        readings.visit_id,
        readings.reading_no,
        readings.install_id,
        readings.crew_id,
        readings.phase,
        readings.source_id,
        readings.minutes_running,
        readings.return_wb_f,
        readings.return_rh_pct,
        readings.suction_pressure_psig,
        readings.liquid_pressure_psig,
        month_of(readings.visited_on) as month,
        season_of(readings.visited_on) as season,
        size_band_of(installs.nominal_tons) as size_band,
        coalesce(findings.finding, 'cannot_judge') as finding,
        metrics.split_error_f,
        metrics.superheat_error_f,
        metrics.subcooling_error_f,
        coalesce(values_counted.values_set_aside, 0) as values_set_aside
    from readings
    left join findings using (visit_id, reading_no)
    left join metrics using (visit_id, reading_no)
    left join installs on readings.install_id = installs.install_id
    left join values_counted using (visit_id, reading_no)

)

select
    visit_id,
    reading_no,
    install_id,
    crew_id,
    month,
    season,
    size_band,
    source_id,
    finding,
    finding_group_of(finding) as finding_group,
    (finding <> 'cannot_judge')::integer as is_judged,
    coalesce(phase = 'as_found', true)::integer as is_as_found,
    split_error_f,
    superheat_error_f,
    subcooling_error_f,
    values_set_aside,
    (return_wb_f is null and return_rh_pct is null)::integer as lacks_wet_bulb,
    (suction_pressure_psig is null or liquid_pressure_psig is null)::integer as lacks_pressures,
    (minutes_running is null)::integer as lacks_run_time,
    coalesce(minutes_running < 15, false)::integer as is_too_early
from joined
