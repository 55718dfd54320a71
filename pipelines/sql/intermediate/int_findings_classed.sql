with readings as (

    select * from int_readings_judged where finding <> 'cannot_judge' and is_as_found = 1

),

metrics as (

    select * from stg_metrics

),

installs as (

    select * from stg_installs

)

select
    readings.visit_id,
    readings.reading_no,
    size_band_of(installs.nominal_tons) as size_band,
    season_of(readings.visited_on) as season,
    outdoor_band_of(readings.outdoor_db_f) as outdoor_band,
    installs.crew_id,
    month_of(installs.installed_on) as install_month,
    installs.refrigerant,
    installs.metering,
    installs.duct_location,
    installs.blower_motor,
    finding_group_of(readings.finding) as finding_group,
    metrics.split_error_f,
    metrics.superheat_error_f,
    metrics.subcooling_error_f
from readings
left join metrics using (visit_id, reading_no)
left join installs on readings.install_id = installs.install_id
