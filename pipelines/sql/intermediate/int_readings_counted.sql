with readings as (

    select * from int_readings_judged

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

counted as (

    -- A month is told by its last day while readings are counted; its text is made once a row of what comes out.
    select
        readings.crew_id,
        last_day(readings.visited_on) as month_end,
        sizes.size_band,
        readings.source_id,
        readings.finding,
        readings.is_as_found,
        count(*) as readings,
        sum(values_counted.values_set_aside) as values_set_aside,
        sum(readings.lacks_wet_bulb) as without_wet_bulb,
        sum(readings.lacks_pressures) as without_pressures,
        count(*) - count(readings.minutes_running) as without_run_time,
        count(*) filter (where readings.minutes_running < 15) as too_early
    from readings
    left join sizes on readings.install_id = sizes.install_id
    left join values_counted on readings.visit_id = values_counted.visit_id and readings.reading_no = values_counted.reading_no
    group by all

)

select
    crew_id,
    month_of(month_end) as month,
    season_of(month_end) as season,
    coalesce(size_band, 'unknown') as size_band,
    source_id,
    finding,
    finding_group_of(finding) as finding_group,
    is_as_found,
    readings,
    case when finding <> 'cannot_judge' then readings else 0 end as judged,
    case when finding = 'cannot_judge' then readings else 0 end as cannot_judge,
    coalesce(values_set_aside, 0)::integer as values_set_aside,
    without_wet_bulb::integer as without_wet_bulb,
    without_pressures::integer as without_pressures,
    without_run_time::integer as without_run_time,
    too_early::integer as too_early
from counted
