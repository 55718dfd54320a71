with installs as (

    select
        crew_id,
        airflow, airflow_high, airflow_low, charge, charge_high, charge_low, airflow_corrected, charge_corrected,
        tap_high_on_small, air_short_in_attic, long_line_short, orifice_overcharged, overcharged_in_mild, undercharged_in_heat, filter_left, read_early, no_wet_bulb
    from int_installs_compared

),

rates as (

    select * from stg_crew_rates

),

mistakes as (

    select * from stg_crew_mistakes

),

counted_by_crew as materialized (

    -- One look at all installs counts both.
    select
        crew_id,
        count(columns(* exclude (crew_id))) as 'judged_\0',
        sum(columns(* exclude (crew_id))) as 'observed_\0'
    from installs
    group by crew_id

),

judged_listed as (

    unpivot counted_by_crew on columns('^judged_') into name counted value judged

),

observed_listed as (

    unpivot counted_by_crew on columns('^observed_') into name counted value observed

),

lake_counted as (

    select
        judged_listed.crew_id,
        substr(judged_listed.counted, len('judged_') + 1) as compared,
        judged_listed.judged,
        observed_listed.observed
    from judged_listed
    join observed_listed on judged_listed.crew_id = observed_listed.crew_id and 'observed_' || substr(judged_listed.counted, len('judged_') + 1) = observed_listed.counted

),

in_tables as (

    select crew_id, compared, judged, observed from rates
    union all
    select crew_id, habit, judged, observed from mistakes

),

joined as (

    select
        coalesce(lake_counted.crew_id, in_tables.crew_id) || ' ' || coalesce(lake_counted.compared, in_tables.compared) as name,
        coalesce(in_tables.judged, 0) as judged,
        coalesce(in_tables.observed, 0) as observed,
        coalesce(lake_counted.judged, 0) as expected_judged,
        coalesce(lake_counted.observed, 0) as expected_observed
    from lake_counted
    full join in_tables on lake_counted.crew_id = in_tables.crew_id and lake_counted.compared = in_tables.compared

),

totals as (

    select name || ' judged' as detail, judged as counted, expected_judged as expected from joined
    union all
    select name || ' observed', observed, expected_observed from joined

)

select
    detail,
    counted::integer as counted,
    expected::integer as expected
from totals
where counted <> expected
order by detail
