with installs as (

    select * from int_installs_compared

),

at_follow_up as (

    unpivot (select * from installs where greatest(tap_high_on_small, air_short_in_attic, long_line_short, orifice_overcharged, overcharged_in_mild, undercharged_in_heat) = 1)
    on tap_high_on_small, air_short_in_attic, long_line_short, orifice_overcharged, overcharged_in_mild, undercharged_in_heat
    into name habit value happened

),

at_start as (

    unpivot (select * from installs where greatest(filter_left, read_early, no_wet_bulb) = 1)
    on filter_left, read_early, no_wet_bulb
    into name habit value happened

),

seen as (

    select crew_id, habit, install_id, follow_up_visit_id as visit_id, followed_up_on as seen_on
    from at_follow_up
    where happened = 1
    union all
    select crew_id, habit, install_id, start_visit_id, started_on
    from at_start
    where happened = 1

)

select
    crew_id,
    habit,
    install_id,
    visit_id,
    seen_on
from seen
order by crew_id, habit, install_id
