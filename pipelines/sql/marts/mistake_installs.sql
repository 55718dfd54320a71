with installs as (

    select * from int_installs_compared
    where greatest(tap_high_on_small, air_short_in_attic, long_line_short, orifice_overcharged, overcharged_in_mild, undercharged_in_heat, filter_left, read_early, no_wet_bulb) = 1

),

looked_for as (

    unpivot installs
    on tap_high_on_small, air_short_in_attic, long_line_short, orifice_overcharged, overcharged_in_mild, undercharged_in_heat, filter_left, read_early, no_wet_bulb
    into name habit value happened

),

seen as (

    select
        *,
        habit in ('filter_left', 'read_early', 'no_wet_bulb') as is_at_start
    from looked_for
    where happened = 1

)

select
    crew_id,
    habit,
    install_id,
    case when is_at_start then start_visit_id else follow_up_visit_id end as visit_id,
    case when is_at_start then started_on else followed_up_on end as seen_on
from seen
order by crew_id, habit, install_id
