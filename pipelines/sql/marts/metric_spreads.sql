with findings as (

    select * from int_findings_classed

),

measured as (

    select
        case when grouping(blower_motor) = 0 then coalesce(blower_motor, 'unknown') end as blower_motor,
        case when grouping(crew_id) = 0 then coalesce(crew_id, 'unknown') end as crew_id,
        case when grouping(duct_location) = 0 then coalesce(duct_location, 'unknown') end as duct_location,
        case when grouping(install_month) = 0 then coalesce(install_month, 'unknown') end as install_month,
        case when grouping(metering) = 0 then coalesce(metering, 'unknown') end as metering,
        case when grouping(outdoor_band) = 0 then coalesce(outdoor_band, 'unknown') end as outdoor_band,
        case when grouping(refrigerant) = 0 then coalesce(refrigerant, 'unknown') end as refrigerant,
        case when grouping(season) = 0 then coalesce(season, 'unknown') end as season,
        case when grouping(size_band) = 0 then coalesce(size_band, 'unknown') end as size_band,
        quantile_cont(split_error_f, [0.1, 0.25, 0.5, 0.75, 0.9]) as split_error,
        quantile_cont(superheat_error_f, [0.1, 0.25, 0.5, 0.75, 0.9]) as superheat_error,
        quantile_cont(subcooling_error_f, [0.1, 0.25, 0.5, 0.75, 0.9]) as subcooling_error,
        count(split_error_f) as split_errors,
        count(superheat_error_f) as superheat_errors,
        count(subcooling_error_f) as subcooling_errors
    from findings
    group by grouping sets (
        (blower_motor), (crew_id), (duct_location), (install_month), (metering), (outdoor_band), (refrigerant), (season), (size_band)
    )

),

named as (

    select
        dimensions_grouped(blower_motor, crew_id, duct_location, install_month, metering, outdoor_band, refrigerant, season, size_band)[1] as place,
        unnest([
            {'metric': 'split_error_f', 'readings': split_errors, 'quantiles': split_error},
            {'metric': 'superheat_error_f', 'readings': superheat_errors, 'quantiles': superheat_error},
            {'metric': 'subcooling_error_f', 'readings': subcooling_errors, 'quantiles': subcooling_error}
        ], recursive := true)
    from measured

)

select
    place.name as dimension,
    place.value as dimension_value,
    metric,
    readings,
    round(quantiles[1], 6) as p10_f,
    round(quantiles[2], 6) as p25_f,
    round(quantiles[3], 6) as median_f,
    round(quantiles[4], 6) as p75_f,
    round(quantiles[5], 6) as p90_f
from named
where readings > 0
order by dimension, dimension_value, metric
