with readings as (

    select * from int_readings_counted

),

findings as (

    select * from int_findings_classed

),

counted as (

    select
        size_band,
        season,
        sum(readings)::integer as readings,
        sum(judged)::integer as judged,
        sum(cannot_judge)::integer as cannot_judge,
        sum_where(judged, is_as_found = 1) as judged_as_found,
        sum_where(readings, finding_group = 'in_line' and is_as_found = 1) as in_line_findings,
        sum_where(readings, finding_group = 'airflow' and is_as_found = 1) as airflow_findings,
        sum_where(readings, finding_group = 'charge' and is_as_found = 1) as charge_findings,
        sum_where(readings, finding_group = 'other' and is_as_found = 1) as other_findings
    from readings
    group by size_band, season

),

middles as (

    select
        size_band,
        season,
        median(split_error_f) as split_error_median_f,
        median(superheat_error_f) as superheat_error_median_f,
        median(subcooling_error_f) as subcooling_error_median_f
    from findings
    group by size_band, season

)

select
    size_band,
    season,
    readings,
    judged,
    cannot_judge,
    judged_as_found,
    in_line_findings,
    share(in_line_findings, judged_as_found) as in_line_share,
    wilson_low(in_line_findings, judged_as_found) as in_line_share_low,
    wilson_high(in_line_findings, judged_as_found) as in_line_share_high,
    airflow_findings,
    share(airflow_findings, judged_as_found) as airflow_share,
    wilson_low(airflow_findings, judged_as_found) as airflow_share_low,
    wilson_high(airflow_findings, judged_as_found) as airflow_share_high,
    charge_findings,
    share(charge_findings, judged_as_found) as charge_share,
    wilson_low(charge_findings, judged_as_found) as charge_share_low,
    wilson_high(charge_findings, judged_as_found) as charge_share_high,
    other_findings,
    share(other_findings, judged_as_found) as other_share,
    wilson_low(other_findings, judged_as_found) as other_share_low,
    wilson_high(other_findings, judged_as_found) as other_share_high,
    round(split_error_median_f, 6) as split_error_median_f,
    round(superheat_error_median_f, 6) as superheat_error_median_f,
    round(subcooling_error_median_f, 6) as subcooling_error_median_f
from counted
left join middles using (size_band, season)
order by size_band, season
