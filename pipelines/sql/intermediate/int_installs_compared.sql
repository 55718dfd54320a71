with installs as (

    select
        *,
        season_of(coalesce(started_on, installed_on)) as start_season,
        case when is_judged = 1 then as_found_finding end as found
    from int_installs_followed
    where crew_id is not null

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
    (filter_state in ('loaded', 'missing'))::integer as filter_left,
    (minutes_running < 15)::integer as read_early,
    1 - has_humidity as no_wet_bulb
from installs
