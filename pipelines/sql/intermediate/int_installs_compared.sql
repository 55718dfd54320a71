with installs as (

    select * from stg_installs

),

follow_ups as (

    select * from stg_follow_ups

),

readings as (

    select * from stg_readings

),

planned as (

    select
        install_id,
        min(visited_on) as planned_on
    from stg_visits
    where visit_kind in ('quality_check', 'maintenance')
    group by install_id

),

visits as (

    select
        visit_id,
        min(visited_on) as visited_on,
        arg_min(outdoor_db_f, reading_no) as outdoor_f,
        arg_min(minutes_running, reading_no) as minutes_running,
        arg_max(filter_state, reading_no) as filter_state,
        max((return_wb_f is not null or return_rh_pct is not null)::integer) as has_humidity
    from readings
    group by visit_id

),

findings as (

    select * from stg_findings

),

seen_again as (

    select
        readings.visit_id,
        readings.reading_no,
        coalesce(readings.phase = 'as_found', false) as is_as_found,
        findings.finding,
        min(readings.reading_no) filter (where readings.correction like '%charge_%') over (partition by readings.visit_id) as charge_touched_at
    from readings
    join findings using (visit_id, reading_no)
    where readings.visit_id in (select follow_up_visit_id from follow_ups)

),

charge_seen as (

    -- Charge is judged where airflow is in line: at the visit's first reading that finds nothing wrong with airflow, before anyone has touched the charge.
    -- A correction stands on the reading that follows it, but for one written down with the reading as found.
    select
        visit_id,
        arg_min(finding, reading_no) as finding
    from seen_again
    where finding not in ('airflow_high', 'airflow_low', 'cannot_judge') and (charge_touched_at is null or reading_no < charge_touched_at or (reading_no = charge_touched_at and is_as_found))
    group by visit_id

),

joined as (

    select
        installs.*,
        starts.visit_id as start_visit_id,
        starts.visited_on as started_on,
        season_of(coalesce(starts.visited_on, installs.installed_on)) as start_season,
        starts.outdoor_f as start_outdoor_f,
        starts.minutes_running as start_minutes,
        starts.filter_state as start_filter,
        starts.has_humidity as start_humidity,
        follow_ups.follow_up_visit_id,
        follow_ups.follow_up_kind,
        follow_ups.followed_up_on,
        season_of(follow_ups.followed_up_on) as season,
        seen.outdoor_f as follow_up_outdoor_f,
        planned.planned_on,
        follow_ups.needed_airflow_correction,
        follow_ups.needed_charge_correction,
        case when follow_ups.follow_up_state = 'observed' and follow_ups.as_found_finding <> 'cannot_judge' then follow_ups.as_found_finding end as found,
        case when follow_ups.follow_up_state = 'observed' then charge_seen.finding end as charge_found
    from installs
    left join follow_ups on installs.install_id = follow_ups.install_id
    left join visits as starts on follow_ups.commissioning_visit_id = starts.visit_id
    left join visits as seen on follow_ups.follow_up_visit_id = seen.visit_id
    left join charge_seen on follow_ups.follow_up_visit_id = charge_seen.visit_id
    left join planned on installs.install_id = planned.install_id

)

select
    install_id,
    crew_id,
    installed_on,
    nominal_tons,
    refrigerant,
    metering,
    duct_location,
    blower_motor,
    line_set_ft,
    start_visit_id,
    started_on,
    start_season,
    start_outdoor_f,
    follow_up_visit_id,
    follow_up_kind,
    followed_up_on,
    season,
    follow_up_outdoor_f,
    planned_on,
    (found in ('airflow_high', 'airflow_low'))::integer as airflow,
    (found = 'airflow_high')::integer as airflow_high,
    (found = 'airflow_low')::integer as airflow_low,
    (found in ('charge_high', 'charge_low'))::integer as charge,
    (found = 'charge_high')::integer as charge_high,
    (found = 'charge_low')::integer as charge_low,
    needed_airflow_correction as airflow_corrected,
    needed_charge_correction as charge_corrected,
    case when nominal_tons <= 2.5 then (found = 'airflow_high')::integer end as tap_high_on_small,
    case when duct_location in ('attic', 'crawlspace') then (found = 'airflow_low')::integer end as air_short_in_attic,
    case when line_set_ft > 25 then (charge_found = 'charge_low')::integer end as long_line_short,
    case when metering = 'fixed_orifice' then (charge_found = 'charge_high')::integer end as orifice_overcharged,
    case when start_outdoor_f < 75 then (charge_found = 'charge_high')::integer end as overcharged_in_mild,
    case when start_outdoor_f > 90 then (charge_found = 'charge_low')::integer end as undercharged_in_heat,
    (start_filter in ('loaded', 'missing'))::integer as filter_left,
    (start_minutes < 15)::integer as read_early,
    1 - start_humidity as no_wet_bulb
from joined
where crew_id is not null
