with source as (

    select * from installs

)

select
    install_id,
    crew_id,
    installed_on,
    nominal_tons,
    refrigerant,
    metering,
    line_set_ft,
    blower_motor,
    duct_location,
    indoor_unit,
    outdoor_unit,
    region,
    first_visited_on,
    last_visited_on
from source
