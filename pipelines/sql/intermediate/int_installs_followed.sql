with installs as (

    select * from stg_installs

),

follow_ups as (

    select * from stg_follow_ups

),

visits as not materialized (

    select * from int_visits_seen

),

joined as (

    select
        installs.*,
        starts.visit_id as start_visit_id,
        starts.visited_on as started_on,
        starts.outdoor_db_f as start_outdoor_f,
        starts.minutes_running,
        starts.filter_state,
        starts.has_humidity,
        coalesce(follow_ups.follow_up_state, 'none_yet') as follow_up_state,
        follow_ups.follow_up_visit_id,
        follow_ups.follow_up_kind,
        follow_ups.followed_up_on,
        follow_ups.as_found_finding,
        follow_ups.needed_airflow_correction,
        follow_ups.needed_charge_correction,
        seen.outdoor_db_f as follow_up_outdoor_f,
        seen.charge_found
    from installs
    left join follow_ups on installs.install_id = follow_ups.install_id
    left join visits as starts on follow_ups.commissioning_visit_id = starts.visit_id
    left join visits as seen on follow_ups.follow_up_visit_id = seen.visit_id

)

select
    install_id,
    crew_id,
    installed_on,
    nominal_tons,
    size_band_of(nominal_tons) as size_band,
    refrigerant,
    metering,
    duct_location,
    blower_motor,
    indoor_unit,
    outdoor_unit,
    line_set_ft,
    start_visit_id,
    started_on,
    start_outdoor_f,
    minutes_running,
    filter_state,
    has_humidity,
    (follow_up_state = 'observed')::integer as is_followed_up,
    follow_up_visit_id,
    follow_up_kind,
    followed_up_on,
    season_of(followed_up_on) as season,
    follow_up_outdoor_f,
    as_found_finding,
    case when follow_up_state = 'observed' then charge_found end as charge_found,
    (follow_up_state = 'observed' and coalesce(as_found_finding, 'cannot_judge') <> 'cannot_judge')::integer as is_judged,
    needed_airflow_correction,
    needed_charge_correction,
    case
        when needed_airflow_correction = 1 or needed_charge_correction = 1 then 1
        when needed_airflow_correction = 0 and needed_charge_correction = 0 then 0
    end as is_corrected
from joined
