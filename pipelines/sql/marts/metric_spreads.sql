with findings as (

    select * from int_findings_classed

),

placed as (

    select
        coalesce(blower_motor, 'unknown') as blower_motor,
        coalesce(crew_id, 'unknown') as crew_id,
        coalesce(duct_location, 'unknown') as duct_location,
        coalesce(install_month, 'unknown') as install_month,
        coalesce(metering, 'unknown') as metering,
        coalesce(outdoor_band, 'unknown') as outdoor_band,
        coalesce(refrigerant, 'unknown') as refrigerant,
        coalesce(season, 'unknown') as season,
        coalesce(size_band, 'unknown') as size_band,
        split_error_f,
        superheat_error_f,
        subcooling_error_f
    from findings

),

measured as (

    select
        blower_motor, crew_id, duct_location, install_month, metering, outdoor_band, refrigerant, season, size_band,
        quantile_cont(split_error_f, [0.1, 0.25, 0.5, 0.75, 0.9]) as split_error,
        quantile_cont(superheat_error_f, [0.1, 0.25, 0.5, 0.75, 0.9]) as superheat_error,
        quantile_cont(subcooling_error_f, [0.1, 0.25, 0.5, 0.75, 0.9]) as subcooling_error,
        count(split_error_f) as split_errors,
        count(superheat_error_f) as superheat_errors,
        count(subcooling_error_f) as subcooling_errors
    from placed
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
