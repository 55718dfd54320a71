with installs as (

    select * from stg_installs

),

follow_ups as (

    select * from stg_follow_ups

),

joined as (

    select
        installs.install_id,
        installs.crew_id,
        installs.installed_on,
        installs.nominal_tons,
        installs.refrigerant,
        installs.metering,
        installs.duct_location,
        installs.blower_motor,
        installs.indoor_unit,
        installs.outdoor_unit,
        line_set_band_of(installs.line_set_ft) as line_set_band,
        coalesce(follow_ups.follow_up_state, 'none_yet') as follow_up_state,
        follow_ups.follow_up_kind,
        follow_ups.followed_up_on,
        follow_ups.as_found_finding,
        follow_ups.needed_airflow_correction,
        follow_ups.needed_charge_correction
    from installs
    left join follow_ups on installs.install_id = follow_ups.install_id

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
    line_set_band,
    follow_up_state,
    (follow_up_state = 'observed')::integer as is_followed_up,
    follow_up_kind,
    followed_up_on,
    month_of(followed_up_on) as month,
    season_of(followed_up_on) as season,
    as_found_finding,
    (follow_up_state = 'observed' and coalesce(as_found_finding, 'cannot_judge') <> 'cannot_judge')::integer as is_judged,
    needed_airflow_correction,
    needed_charge_correction,
    case
        when needed_airflow_correction = 1 or needed_charge_correction = 1 then 1
        when needed_airflow_correction = 0 and needed_charge_correction = 0 then 0
    end as is_corrected
from joined
