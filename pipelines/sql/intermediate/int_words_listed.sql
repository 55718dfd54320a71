with installs as not materialized (

    select * from stg_installs

),

readings as not materialized (

    select * from stg_readings

),

install_months as (

    select distinct last_day(installed_on) as month_end from installs

),

words as (

    select distinct 'crew_id' as column_name, crew_id as word from installs
    union all
    select distinct 'crew_id', crew_id from readings
    union all
    select distinct 'source_id', source_id from readings
    union all
    select distinct 'refrigerant', refrigerant from installs
    union all
    select distinct 'size_band', size_band_of(nominal_tons) from (select distinct nominal_tons from installs)
    union all
    select 'size_band', 'unknown'
    union all
    select 'install_month', month_of(month_end) from install_months
    union all
    select 'outdoor_band', outdoor_band_of(unnest(range(50, 101, 10)))
    union all
    select 'outdoor_band', outdoor_band_of(null)

)

select distinct
    column_name,
    word
from words
where word is not null
