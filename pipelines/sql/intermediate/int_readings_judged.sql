with readings as (

    select * from stg_readings

),

judged as (

    -- What cannot be judged needs no partner: it is what a reading without one counts as.
    select
        visit_id,
        reading_no,
        finding
    from stg_findings
    where finding <> 'cannot_judge'

)

select
    readings.visit_id,
    readings.reading_no,
    readings.install_id,
    readings.crew_id,
    readings.visited_on,
    readings.source_id,
    coalesce(judged.finding, 'cannot_judge') as finding,
    coalesce(readings.phase = 'as_found', true)::integer as is_as_found,
    readings.outdoor_db_f,
    readings.minutes_running,
    readings.filter_state,
    -- A correction stands on the reading that follows it, but for one written down with the reading as found.
    case when readings.correction like '%charge_%' then readings.reading_no + coalesce(readings.phase = 'as_found', false)::integer end as charge_touched_from,
    (readings.return_wb_f is null and readings.return_rh_pct is null)::integer as lacks_wet_bulb,
    (readings.suction_pressure_psig is null or readings.liquid_pressure_psig is null)::integer as lacks_pressures
from readings
left join judged using (visit_id, reading_no)
