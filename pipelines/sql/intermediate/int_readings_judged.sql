with readings as (

    select * from stg_readings

),

judged as (

    -- What cannot be judged needs no partner: it is what a reading without one counts as.
    select
        visit_id,
        reading_no,
        finding,
        finding_group_of(finding) as finding_group
    from stg_findings
    where finding <> 'cannot_judge'

),

sizes as (

    select
        install_id,
        size_band_of(nominal_tons) as size_band
    from stg_installs

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
        readings.visited_on,
        readings.phase,
        readings.source_id,
        readings.outdoor_db_f,
        readings.minutes_running,
        readings.filter_state,
        readings.return_wb_f,
        readings.return_rh_pct,
        readings.suction_pressure_psig,
        readings.liquid_pressure_psig,
        readings.correction,
        coalesce(sizes.size_band, 'unknown') as size_band,
        coalesce(judged.finding, 'cannot_judge') as finding,
        coalesce(judged.finding_group, 'cannot_judge') as finding_group,
        (judged.finding is not null)::integer as is_judged,
        coalesce(values_counted.values_set_aside, 0) as values_set_aside
    from readings
    left join judged using (visit_id, reading_no)
    left join sizes on readings.install_id = sizes.install_id
    left join values_counted using (visit_id, reading_no)

)

select
    visit_id,
    reading_no,
    install_id,
    crew_id,
    visited_on,
    month_of(visited_on) as month,
    season_of(visited_on) as season,
    size_band,
    source_id,
    finding,
    finding_group,
    is_judged,
    coalesce(phase = 'as_found', true)::integer as is_as_found,
    outdoor_db_f,
    minutes_running,
    filter_state,
    -- A correction stands on the reading that follows it, but for one written down with the reading as found.
    case when correction like '%charge_%' then reading_no + coalesce(phase = 'as_found', false)::integer end as charge_touched_from,
    values_set_aside,
    (return_wb_f is null and return_rh_pct is null)::integer as lacks_wet_bulb,
    (suction_pressure_psig is null or liquid_pressure_psig is null)::integer as lacks_pressures,
    (minutes_running is null)::integer as lacks_run_time,
    coalesce(minutes_running < 15, false)::integer as is_too_early
from joined
