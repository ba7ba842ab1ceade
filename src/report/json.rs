//! Every result of a job as JSON, for other programs and for checking many jobs at once.
//!
//! One job gives one object, several give an array of them; `file` says which is which.
//!
//! - Every quantity is a plain number with its unit at the end of its key; nothing is rounded.
//! - Every key is always there; a value that is not known, or has no meaning for this job, is `null`. A number that is not finite would be written as `null` too.
//! - `u95_` is the ± of the quantity whose key follows, at 95 % (k = 2); `u_` is one standard uncertainty.
//! - A *word* is one of the words listed; a *text* is a person's own or a sentence in inch-pound units. Readers should look at words, not at sentences.
//! - `in_wc` is inches of water (1 in. w.c. = 249.08891 Pa), `cfm` cubic feet a minute.
//!
//! # The report
//!
//! | key | unit or kind | meaning |
//! | --- | --- | --- |
//! | `tapcross_report` | number | version of this layout, 1; a change that could break a reader raises it |
//! | `program_version` | text | version of Tapcross that wrote it |
//! | `file` | text | the job file, as it was named; empty for a job without a file |
//! | `job` | object | what the job says of itself |
//! | `machine` | object or null | the machine, null while none is chosen |
//! | `readings` | object | the reading set that everything is judged by |
//! | `air` | object | air at the blower's inlet |
//! | `target` | object or null | how much air it ought to move, null while none is said |
//! | `call_targets` | array | the target of every call that has one; `target` is that of the readings' call |
//! | `operating_point` | object or null | where it runs; null when nothing can be said |
//! | `why_not` | object or null | why `operating_point` is null; null when it is not |
//! | `segments` | array | what takes the static; empty from a single total |
//! | `parts` | array | what the external path is made of, as read: finer than `segments` |
//! | `ducts` | object or null | what is left of the static for the ducts; null while no length and no design static is stated, without an operating point, or without a static to start from |
//! | `path` | array | every element, those in ways side by side included, in flow order; a group stands before what is in it |
//! | `ports` | array | where static pressure is read against the rooms, in flow order |
//! | `bypass` | object or null | a way from supply to return past the rooms |
//! | `delivered` | object or null | the air where it counts, as read; null without an operating point |
//! | `taps` | array | every tap on the path as read and after the changes, in the table's order |
//! | `changes` | array | the job's changes, on and off, in its order |
//! | `after` | object or null | where it runs after the changes that are on; null without changes or without an operating point |
//! | `cheapest` | object or null | the cheapest sets of the job's changes that reach the target, on or off as they may be; null without changes |
//! | `visit` | object or null | every reading set and what they say together; null where there is one set |
//! | `assumptions` | array | what had to be taken for granted |
//! | `cautions` | array | what has to be minded by whoever reads, changes or mends this machine, gravest first |
//! | `findings` | array | what a practitioner would say, weightiest first |
//! | `problems` | array | what cannot be right, or is odd, in what was typed |
//! | `table_problems` | array | the same for the blower table |
//! | `verdict` | object | what the window shows over the chart |
//! | `limits` | object | limits that findings use, as the job has them |
//! | `accuracy` | object | limits of error that ± rests on, as the job has them |
//!
//! # `job`
//!
//! | key | unit or kind | meaning |
//! | --- | --- | --- |
//! | `job.title` | text | what a person calls it |
//! | `job.place` | text | where it is |
//! | `job.date` | text | when it was read, as typed |
//! | `job.notes` | text | anything else |
//! | `job.illustrative` | true, false | true for an invented job |
//! | `job.capacity_tons` | ton | capacity that airflow a ton is reckoned by: the outdoor unit's, else the table's nominal one |
//! | `job.return_length_ft` | ft | total effective length of the return, if stated |
//! | `job.supply_length_ft` | ft | total effective length of the supply, if stated |
//! | `job.design_static_in_wc` | in. w.c. | static that the system was designed for, if stated |
//! | `job.return_openings` | word | openings used: `unstated`, `bottom`, `one_side`, `two_sides` |
//!
//! # `machine`
//!
//! | key | unit or kind | meaning |
//! | --- | --- | --- |
//! | `machine.name` | text | model |
//! | `machine.kind` | word | `furnace`, `draw_through_air_handler`, `blow_through_air_handler`, `no_return_duct` |
//! | `machine.motor` | word | `permanent_split_capacitor`, `constant_torque`, `constant_airflow`, `unstated` |
//! | `machine.illustrative` | true, false | true for an invented machine |
//! | `machine.source` | text | where the table's numbers come from |
//! | `machine.notes` | text | what the table adds in words |
//! | `machine.nominal_capacity_tons` | ton | nominal cooling capacity |
//! | `machine.rated_maximum_in_wc` | in. w.c. | rated maximum: the highest total external static on the rating plate |
//! | `machine.basis` | object | how the table was made |
//! | `machine.basis.filter` | word | `without`, `included` |
//! | `machine.basis.coil` | word | `without`, `dry`, `wet` |
//! | `machine.basis.heater` | word | `without`, `included` |
//! | `machine.basis.return_openings` | word | as `job.return_openings` |
//! | `machine.basis.position` | word | `unstated`, `up`, `down`, `horizontal` |
//! | `machine.basis.voltage_volts` | V | supply voltage |
//! | `machine.basis.density_lb_ft3` | lb/ft³ | air density of the table |
//! | `machine.basis.density_is_stated` | true, false | false where standard air is taken because the table does not say |
//!
//! # `readings`
//!
//! | key | unit or kind | meaning |
//! | --- | --- | --- |
//! | `readings.set` | text | name of the reading set |
//! | `readings.call` | word | `cooling_high`, `cooling_low`, `heating_high`, `heating_low`, `fan_only` |
//! | `readings.tap` | text | the tap that ran: the one said, else the one that the call runs |
//! | `readings.coil` | word | `dry`, `wet` |
//! | `readings.power_watts` | W | electric power, if read |
//! | `readings.voltage_volts` | V | supply voltage, if read |
//! | `readings.measured_rise_f` | °F | temperature rise, a difference, if read |
//! | `readings.heat_input_btuh` | Btu/h | heat that goes in, as typed or by the clocked meter, if read |
//! | `readings.burner_efficiency_fraction` | fraction | part of a burner's input that the air gets, if known |
//! | `readings.signs_confirmed` | true, false | an unusual sign was asked about and stands |
//! | `readings.places` | array | each place read |
//! | `readings.places[].at` | word | `port` against the rooms, `total` straight across the machine, or `across` one element |
//! | `readings.places[].port` | number | number of the port |
//! | `readings.places[].side` | word | `return` before the blower, `supply` after it |
//! | `readings.places[].after` | word | the element that the air has just left there: `louvre`, `return_grille`, `return_duct`, `filter`, `blower`, `heat_exchanger`, `coil`, `heater`, `supply_duct`, `registers`, `air_cleaner`, `humidifier`, `damper`, `leak`, `bypass`, `side_by_side` |
//! | `readings.places[].across` | word | the element that was read across, words as `readings.places[].after` |
//! | `readings.places[].looks_in_wc` | in. w.c. | array of each reading with its sign |
//! | `readings.places[].average_in_wc` | in. w.c. | their average, the reading |
//! | `readings.places[].u_unsteadiness_in_wc` | in. w.c. | standard uncertainty (u, not ±) of the average from the spread of the readings; 0 for one reading |
//!
//! # `air`
//!
//! | key | unit or kind | meaning |
//! | --- | --- | --- |
//! | `air.altitude_ft` | ft | height above the sea |
//! | `air.return_temperature_f` | °F | temperature of the return air |
//! | `air.return_humidity_fraction` | 0 to 1 | relative humidity of the return air |
//! | `air.station_pressure_kpa` | kPa | pressure of the place |
//! | `air.station_pressure_is_read` | true, false | false where it is the standard atmosphere's at the altitude |
//! | `air.density_lb_ft3` | lb/ft³ | density at the blower's inlet |
//! | `air.density_ratio` | ratio | that density over the table's |
//! | `air.behind_cold_coil` | true, false | true where the air is taken as 55 °F at 90 % behind a draw-through coil that cools |
//!
//! # `target`
//!
//! | key | unit or kind | meaning |
//! | --- | --- | --- |
//! | `target.from` | word | `airflow` typed, `per_ton`, `heat_rise` |
//! | `target.actual_cfm` | cfm | target in the air that the blower moves |
//! | `target.standard_cfm` | cfm | the same at standard air |
//! | `target.low_cfm` | cfm | lowest accepted, actual |
//! | `target.high_cfm` | cfm | highest accepted, actual |
//! | `call_targets[].call` | word | words as `readings.call` |
//! | `call_targets[].target` | object | as `target` |
//! | `call_targets[].target.from` | word | as above |
//! | `call_targets[].target.actual_cfm` | cfm | as above |
//! | `call_targets[].target.standard_cfm` | cfm | as above |
//! | `call_targets[].target.low_cfm` | cfm | as above |
//! | `call_targets[].target.high_cfm` | cfm | as above |
//!
//! # `operating_point`
//!
//! | key | unit or kind | meaning |
//! | --- | --- | --- |
//! | `operating_point.tap` | text | the tap in use |
//! | `operating_point.airflow_cfm` | cfm | actual airflow of the blower; at constant speed where the air is not the table's |
//! | `operating_point.u95_airflow_cfm` | cfm | ± of it, 95 % |
//! | `operating_point.airflow_below_cfm` | cfm | past the table's last row: airflow is below this, as sure as the table, and `airflow_cfm` is extrapolated; null elsewhere |
//! | `operating_point.density_band_other_end_cfm` | cfm | airflow at the other end of the band that the motor family has in thin or dense air |
//! | `operating_point.standard_airflow_cfm` | cfm | airflow at standard air, 0.075 lb/ft³ |
//! | `operating_point.per_ton_standard_cfm` | cfm | airflow a ton at standard air |
//! | `operating_point.of_target_fraction` | fraction | airflow over the target, both actual |
//! | `operating_point.reach` | word | `short` of the target's band, `in_band`, `too_much`, `not_said` (off the table, a part's drop is not known, or what the motor does in this air decides) |
//! | `operating_point.standing` | object | how well founded the airflow is, and what follows from it |
//! | `operating_point.standing.curve` | word | `published`, `extrapolated` |
//! | `operating_point.standing.path` | word | `measured`, `shared`, `assumed` |
//! | `operating_point.tesp_in_wc` | in. w.c. | total external static pressure |
//! | `operating_point.u95_tesp_in_wc` | in. w.c. | ± of it, 95 % |
//! | `operating_point.tesp_standing` | object | how well founded the total static is, which rests on the readings and on parts by data |
//! | `operating_point.tesp_standing.curve` | word | as above |
//! | `operating_point.tesp_standing.path` | word | as above |
//! | `operating_point.read_across_in_wc` | in. w.c. | what the manometer gave between the ports, before parts by data are counted |
//! | `operating_point.table_entry_in_wc` | in. w.c. | external static with which the table is entered |
//! | `operating_point.table_airflow_factor` | ratio | factor on the table's airflow for the supply voltage |
//! | `operating_point.plate` | object or null | against the rating plate |
//! | `operating_point.plate.limit_in_wc` | in. w.c. | the rated maximum |
//! | `operating_point.plate.worse_in_wc` | in. w.c. | the worse of total static as read and at the table's density |
//! | `operating_point.plate.decides` | word | which one that is: `as_read`, `at_table_density` |
//! | `operating_point.plate.side` | word | `under`, `at_limit` (within the uncertainty), `over` |
//! | `operating_point.power_watts` | W | electric power |
//! | `operating_point.power_from` | word | `reading`, `table` |
//! | `operating_point.watts_per_cfm` | W/cfm | electric power for each cfm |
//! | `operating_point.by_heat_airflow_cfm` | cfm | a second reading of airflow, by the rise that was read and the heat; null where no rise was read, or the call does not heat |
//! | `operating_point.u95_by_heat_airflow_cfm` | cfm | ± of it, 95 % |
//! | `operating_point.by_heat_agrees` | true, false | false where the two differ by more than both leave in doubt |
//!
//! # `why_not`
//!
//! | key | unit or kind | meaning |
//! | --- | --- | --- |
//! | `why_not.code` | word | `no_machine`, `no_tap`, `no_such_tap`, `shares`, `nothing_read`, `before_not_read`, `after_not_read`, `sign_in_doubt`, `unsound` (see `problems`), `no_rise`, `past_the_end`, `single_row`, `unusable` (see `table_problems`) |
//! | `why_not.sentence` | text | the same for a person |
//! | `why_not.airflow_below_cfm` | cfm | `past_the_end`: airflow is below this, as sure as the table |
//! | `why_not.tesp_in_wc` | in. w.c. | `past_the_end`, `no_rise`: the static read |
//! | `why_not.curve_end_in_wc` | in. w.c. | `past_the_end`: where the extrapolated curve ends |
//! | `why_not.row_esp_in_wc` | in. w.c. | `single_row`: static of the tap's one row |
//! | `why_not.row_airflow_cfm` | cfm | `single_row`: airflow of that row |
//!
//! # `segments[]`
//!
//! | key | unit or kind | meaning |
//! | --- | --- | --- |
//! | `segments[].segment` | word | `return_side`, `supply_side` |
//! | `segments[].drop_in_wc` | in. w.c. | static that it takes at the operating point |
//! | `segments[].share_fraction` | fraction | of the total external static |
//! | `segments[].standing` | object | as `operating_point.tesp_standing` |
//! | `segments[].standing.curve` | word | as above |
//! | `segments[].standing.path` | word | as above |
//!
//! # `parts[]`
//!
//! | key | unit or kind | meaning |
//! | --- | --- | --- |
//! | `parts[].elements` | word | array of its elements in flow order, words as `readings.places[].after`; several where nobody has split them |
//! | `parts[].element_ids` | number | array of their numbers; empty for what no element accounts for |
//! | `parts[].side` | word | `return` before the blower, `supply` after it |
//! | `parts[].airflow_cfm` | cfm | airflow through it at the airflow read |
//! | `parts[].drop_in_wc` | in. w.c. | its drop at the airflow read |
//! | `parts[].standing` | word | `measured`, `shared` (split off by shares), `assumed` |
//!
//! # `visit`
//!
//! | key | unit or kind | meaning |
//! | --- | --- | --- |
//! | `visit.judged_set` | number | number of the set that everything else here is judged by, from 1 |
//! | `visit.sets` | array | every set, in the order in which they were taken |
//! | `visit.sets[].set` | number | its number, from 1 |
//! | `visit.sets[].name` | text | what a person calls it |
//! | `visit.sets[].time` | text | when it was taken, as typed |
//! | `visit.sets[].note` | text | anything else |
//! | `visit.sets[].after_repair` | true, false | taken after the repair, of another path than the sets before it |
//! | `visit.sets[].different` | text | array of what is different from the set before |
//! | `visit.sets[].says_what_set_says` | number or null | number of an earlier set that says the very same |
//! | `visit.sets[].tap` | text or null | the tap that ran; null, as all that follows, where it has no point |
//! | `visit.sets[].airflow_cfm` | cfm | airflow, by the table |
//! | `visit.sets[].u95_airflow_cfm` | cfm | its ± |
//! | `visit.sets[].tesp_in_wc` | in. w.c. | total external static |
//! | `visit.sets[].u95_tesp_in_wc` | in. w.c. | its ± |
//! | `visit.sets[].return_side_in_wc` | in. w.c. | what the return side takes; null from a single total |
//! | `visit.sets[].supply_side_in_wc` | in. w.c. | what the supply side takes; null from a single total |
//! | `visit.sets[].step` | text or null | what changed from the set before, in figures |
//! | `visit.sets[].promised_tap` | text or null | the tap that the promise is of: the one that ran |
//! | `visit.sets[].planned_tap` | text or null | the tap that the changes would run, where another ran |
//! | `visit.sets[].promised_cfm` | cfm or null | what the changes that are on promise; only for a set after the repair, in the call of the set before it that they start from |
//! | `visit.sets[].promised_in_wc` | in. w.c. | the total external static that goes with it |
//! | `visit.sets[].off_promise_cfm` | cfm | measured less promised |
//! | `visit.sets[].u95_off_promise_cfm` | cfm | ± of that, without the table's own error, which both have |
//! | `visit.sets[].as_promised` | true, false or null | no more off than its ± |
//! | `visit.fit` | object or null | what the sets before the repair say together; null where they tell no part from another |
//! | `visit.fit.airflow_cfm` | cfm | the airflow at which drops are told: the judged set's, where that is among them |
//! | `visit.fit.holds` | true, false | the readings can all be true: chi-squared is no more than chance leaves in 95 of 100 visits |
//! | `visit.fit.chi_squared` | number | weighted sum of squares of what is left over |
//! | `visit.fit.freedom` | number | readings beyond what the unknowns need |
//! | `visit.fit.drops` | array | parts, or several that no set tells apart, in flow order |
//! | `visit.fit.drops[].element_ids` | number | array of their numbers, as `path[].id` |
//! | `visit.fit.drops[].drop_in_wc` | in. w.c. | what they take at `visit.fit.airflow_cfm` |
//! | `visit.fit.drops[].u95_drop_in_wc` | in. w.c. | its ± |
//! | `visit.fit.residuals` | array | every stretch that was read, set by set |
//! | `visit.fit.residuals[].set` | number | number of the set |
//! | `visit.fit.residuals[].element_ids` | number | array of the numbers of its elements |
//! | `visit.fit.residuals[].off_in_wc` | in. w.c. | what was read less what the fit says |
//! | `visit.fit.residuals[].u95_off_in_wc` | in. w.c. | ± of what was read |
//! | `visit.suspects` | array | where `visit.fit.holds` is false: single mistakes that would explain it and cannot be told apart, the likeliest first |
//! | `visit.suspects[].set` | number | number of the set |
//! | `visit.suspects[].what` | word | `tap` (another one ran), `was_in`, `was_out` (a part), `readings` |
//! | `visit.suspects[].tap` | text or null | the tap that would have run |
//! | `visit.suspects[].element_id` | number or null | the part |
//! | `visit.suspects[].chi_squared` | number | what would be left over then |
//! | `visit.sentences` | text | array of the same in sentences |
//!
//! # `ducts`
//!
//! | key | unit or kind | meaning |
//! | --- | --- | --- |
//! | `ducts.allowed_in_wc` | in. w.c. | static that ducts and parts may take together |
//! | `ducts.allowed_from` | word | `rated_maximum` (in thin air what it allows as read), `tap` (the highest static at which it delivers the target, where that is less), `design_static` |
//! | `ducts.airflow_cfm` | cfm | the airflow that everything here was brought to |
//! | `ducts.airflow_from` | word | `target`, or `reading` where there is no target |
//! | `ducts.parts` | array | external parts with a drop of their own, which come off first |
//! | `ducts.parts[].element` | word | as `readings.places[].after` |
//! | `ducts.parts[].drop_in_wc` | in. w.c. | its drop at `ducts.airflow_cfm` |
//! | `ducts.parts[].standing` | word | `measured` (alone between two readings), `shared` (a share that a person stated), `assumed` (by data, or the usual drop of a grille, registers or damper) |
//! | `ducts.parts[].is_usual` | true, false | nobody knows it: the usual drop of its kind was taken |
//! | `ducts.without_data` | word | array of external parts without a drop of their own, which stay in what is left |
//! | `ducts.left_in_wc` | in. w.c. | what is left for the ducts; zero or below means nothing |
//! | `ducts.left_is_at_most` | true, false | true where a filter, coil, heater or louvre is among `ducts.without_data` |
//! | `ducts.friction_rate_in_wc_100ft` | in. w.c./100 ft | friction rate that spends it; null while a length is missing or nothing is left |
//! | `ducts.sides` | array | the sides that have a duct |
//! | `ducts.sides[].side` | word | `return`, `supply` |
//! | `ducts.sides[].length_ft` | ft | total effective length |
//! | `ducts.sides[].share_in_wc` | in. w.c. | its share of what is left, by length |
//! | `ducts.sides[].with` | word | array of parts without a drop of their own that stand in its drop |
//! | `ducts.sides[].less` | word | array of parts whose usual drop was taken off what was read |
//! | `ducts.sides[].read_in_wc` | in. w.c. | what its ducts take at the airflow read; null where no reading tells the sides apart |
//! | `ducts.sides[].taken_in_wc` | in. w.c. | the same at `ducts.airflow_cfm`, by the path's law |
//! | `ducts.sides[].read_rate_in_wc_100ft` | in. w.c./100 ft | friction rate at the airflow read; null without a length, or where a filter, coil, heater or louvre is among `ducts.sides[].with` |
//! | `ducts.sides[].taken_rate_in_wc_100ft` | in. w.c./100 ft | friction rate at `ducts.airflow_cfm`; null likewise |
//! | `ducts.sides[].standing` | word | as `ducts.parts[].standing` |
//! | `ducts.sides[].verdict` | word | `over` its share, `within` it, `not_said` |
//!
//! # `path[]`, `ports[]`, `bypass` and `delivered`
//!
//! | key | unit or kind | meaning |
//! | --- | --- | --- |
//! | `path[].id` | number | its number in the job |
//! | `path[].kind` | word | words as `readings.places[].after` |
//! | `path[].name` | text | what a person calls it; empty where its kind is name enough |
//! | `path[].side` | word | `return`, `supply`; null for the blower |
//! | `path[].stands` | word | `cabinet`, `house` |
//! | `path[].in_table` | true, false | part of the blower table, and so of no total external static |
//! | `path[].out` | true, false | out of the path during the readings |
//! | `path[].in_group_id` | number | number of the group in one of whose ways it stands; null in the chain itself |
//! | `path[].way` | number | which way of that group, counted from 1 |
//! | `path[].stated_share_fraction` | fraction | of the drop between two ports, where a person has said it |
//! | `path[].exponent` | number | of its drop against airflow |
//! | `path[].exponent_is_stated` | true, false | false where it is the usual one of its kind |
//! | `path[].airflow_cfm` | cfm | airflow through it as read; null where it has no drop of its own |
//! | `path[].drop_in_wc` | in. w.c. | its drop as read |
//! | `path[].standing` | word | as `parts[].standing` |
//! | `path[].after` | object or null | the same after the changes that are on; null without changes or without a point |
//! | `path[].after.airflow_cfm` | cfm | as above |
//! | `path[].after.drop_in_wc` | in. w.c. | as above |
//! | `path[].after.standing` | word | as above |
//! | `path[].ways` | array | ways side by side of a group; empty for every other element |
//! | `path[].ways[].way` | number | counted from 1 |
//! | `path[].ways[].element_ids` | number | array of the numbers of what stands in it, in flow order |
//! | `path[].ways[].is_leak` | true, false | a hole, whose air never passes the rooms |
//! | `path[].ways[].stated_flow_fraction` | fraction | of the group's air, where a person has said it |
//! | `path[].ways[].airflow_cfm` | cfm | airflow through it as read |
//! | `path[].ways[].airflow_after_cfm` | cfm | the same after the changes |
//! | `ports[].id` | number | as `readings.places[].port` |
//! | `ports[].after_id` | number | number of the element that the air has just left there |
//! | `ports[].side` | word | as above |
//! | `ports[].in_a_way` | true, false | it reads one of several ways, not all the air |
//! | `ports[].reading_in_wc` | in. w.c. | average of its readings |
//! | `bypass.id` | number | its number in the job |
//! | `bypass.leaves_after_id` | number | number of the supply element behind which it leaves |
//! | `bypass.joins_after_id` | number | number of the return element behind which it comes back |
//! | `bypass.stated_flow_fraction` | fraction | of the blower's air during the readings |
//! | `bypass.airflow_cfm` | cfm | the same as airflow |
//! | `bypass.drop_in_wc` | in. w.c. | its drop as read |
//! | `bypass.airflow_after_cfm` | cfm | after the changes; 0 when it is shut |
//! | `delivered.blower_cfm` | cfm | what the blower moves |
//! | `delivered.to_rooms_cfm` | cfm | what comes out in the rooms: without leaks and bypass the same |
//! | `delivered.from_rooms_cfm` | cfm | what is drawn from the rooms |
//! | `delivered.bypassed_cfm` | cfm | what takes the bypass |
//!
//! # `changes[]`, `after` and `cheapest`
//!
//! | key | unit or kind | meaning |
//! | --- | --- | --- |
//! | `changes[].id` | number | its number in the job |
//! | `changes[].name` | text | what is done |
//! | `changes[].role` | word | `fix`: a search puts it on or leaves it off; `condition`: it stays as it is switched |
//! | `changes[].on` | true, false | whether it counts |
//! | `changes[].price` | money | as the person gave it |
//! | `changes[].note` | text | the person's own |
//! | `changes[].element` | word | what it is put on, words as `readings.places[].after`; null for the return side, the tap, the blower, or an element that is gone |
//! | `changes[].element_id` | number | its number in the job; of one that is gone too |
//! | `changes[].sizes` | array | what a person states of it besides what it is on, in the order of the job file |
//! | `changes[].sizes[].name` | text | what it is |
//! | `changes[].sizes[].when` | word | `now`, `then`; null where there is but one |
//! | `changes[].sizes[].value` | number | in the unit beside it; null for what is no number |
//! | `changes[].sizes[].unit` | word | unit of the value: `in`, `ft`, `in²`, `in. w.c.`, `cfm`, `fraction`, `ratio`, `count` |
//! | `changes[].sizes[].at_cfm` | cfm | airflow at which a published drop holds |
//! | `changes[].sizes[].text` | text | a tap, a call, a machine, the number of an element that leaves |
//! | `changes[].question` | text | what is asked of its sizes: a run that takes another drop by them than by its share, a new return or another grille whose air will be heard; null where nothing is |
//! | `changes[].worth_cfm` | cfm | what it brings alone; worths do not add up |
//! | `changes[].worth_is_at_most` | true, false | another machine has a part of which nothing is known: what it brings is at most what is told |
//! | `changes[].worth_up_to_cfm` | cfm | as `after.gain_up_to_cfm` |
//! | `changes[].u95_worth_cfm` | cfm | ± of it, 95 %, from the change's own sizes and from guesses; of another tap, call or machine, and where no other change is on, from readings and table too |
//! | `changes[].worth_to_rooms_cfm` | cfm | what the rooms get more by it alone; null where the worth is a range |
//! | `changes[].u95_worth_to_rooms_cfm` | cfm | ± of that, 95 %, as `changes[].u95_worth_cfm` |
//! | `changes[].worth_after_others_cfm` | cfm | of each that counts among several: what it brings after the others; null for one that does not count, and where it is the only one |
//! | `changes[].worth_after_others_up_to_cfm` | cfm | as `after.gain_up_to_cfm` |
//! | `changes[].guesses` | text | array of the guesses that it hangs on, and what to read to be rid of each |
//! | `changes[].worth_unknown` | text | why nothing is known of what it brings alone |
//! | `changes[].refused` | text | why it is on and yet not put on |
//! | `after.machine` | text | name of another machine that stands on the ducts; null for the job's own |
//! | `after.call` | word | the call that it runs for, words as `readings.call` |
//! | `after.target` | object or null | as `target`; another machine may bring its own |
//! | `after.target.from` | word | as above |
//! | `after.target.actual_cfm` | cfm | as above |
//! | `after.target.standard_cfm` | cfm | as above |
//! | `after.target.low_cfm` | cfm | as above |
//! | `after.target.high_cfm` | cfm | as above |
//! | `after.tap` | text | the tap that runs |
//! | `after.airflow_cfm` | cfm | actual airflow; null where the tap's curve does not reach the path |
//! | `after.u95_airflow_cfm` | cfm | ± of it, 95 % |
//! | `after.gain_cfm` | cfm | airflow less that of the operating point; the lower end of the range where one of them lies off the table |
//! | `after.gain_is_at_most` | true, false | as `changes[].worth_is_at_most`, of all together |
//! | `after.price` | money | what the changes that count cost together; null where none has a price |
//! | `after.unpriced` | number | how many of them have no price |
//! | `after.gain_up_to_cfm` | cfm | upper end of that range; null where both are published |
//! | `after.u95_gain_cfm` | cfm | ± of the gain, 95 % |
//! | `after.gain_to_rooms_cfm` | cfm | what the rooms get more; null where the gain is a range |
//! | `after.u95_gain_to_rooms_cfm` | cfm | ± of that, 95 % |
//! | `after.of_target_fraction` | fraction | airflow over the target |
//! | `after.reach` | word | as `operating_point.reach` |
//! | `after.tesp_in_wc` | in. w.c. | total external static |
//! | `after.plate` | object or null | as `operating_point.plate` |
//! | `after.plate.limit_in_wc` | in. w.c. | as above |
//! | `after.plate.worse_in_wc` | in. w.c. | as above |
//! | `after.plate.decides` | word | as above |
//! | `after.plate.side` | word | as above |
//! | `after.assumptions` | array | as `assumptions`, of another machine's table in this house |
//! | `after.assumptions[].code` | word | as above |
//! | `after.assumptions[].part` | word | as above |
//! | `after.assumptions[].sentence` | text | as above |
//! | `after.delivered` | object or null | as `delivered`; null without an airflow |
//! | `after.delivered.blower_cfm` | cfm | as above |
//! | `after.delivered.to_rooms_cfm` | cfm | as above |
//! | `after.delivered.from_rooms_cfm` | cfm | as above |
//! | `after.delivered.bypassed_cfm` | cfm | as above |
//! | `after.parts` | array | as `parts`, at `after.airflow_cfm` |
//! | `after.parts[].elements` | word | as above; a second return stands with what it lies beside |
//! | `after.parts[].element_ids` | number | as above |
//! | `after.parts[].side` | word | as above |
//! | `after.parts[].airflow_cfm` | cfm | as above |
//! | `after.parts[].drop_in_wc` | in. w.c. | as above; null without an airflow |
//! | `after.parts[].standing` | word | as above |
//! | `after.taps` | array | every tap of the machine that runs after the changes, in its table's order, each as `taps[]`: point and need with the changes on, gains over the operating point |
//! | `cheapest.examined` | number | sets looked at; the rest cost at least as much as the last one named |
//! | `cheapest.checked` | text | what a set is held against |
//! | `cheapest.none_reason` | text | why no set is named |
//! | `cheapest.nearest` | object or null | where none is named: the set for which least has to come out of the path still; null where one is, or none lacks a drop |
//! | `cheapest.nearest.change_ids` | number | as `cheapest.best[].change_ids` |
//! | `cheapest.nearest.tap` | text | the tap that runs |
//! | `cheapest.nearest.airflow_cfm` | cfm | airflow at which that is told |
//! | `cheapest.nearest.remove_in_wc` | in. w.c. | drop that has to come out of the path at that airflow, for the band and the rated maximum |
//! | `cheapest.nearest.remove_fraction` | fraction | of the path's drop with the set |
//! | `cheapest.best` | array | at most five, cheapest first; one that holds a cheaper one whole is left out |
//! | `cheapest.best[].change_ids` | number | array of the changes' numbers; empty when nothing is needed |
//! | `cheapest.best[].unpriced_ids` | number | array of those without a price, which count as free; another machine that is on is among them |
//! | `cheapest.best[].price` | money or null | what they cost together, with the conditions that are on; null where none of them has a price |
//! | `cheapest.best[].tap` | text | the tap that runs |
//! | `cheapest.best[].airflow_cfm` | cfm | actual airflow |
//! | `cheapest.best[].u95_airflow_cfm` | cfm or null | ± of it (95 %) |
//! | `cheapest.best[].u95_gain_cfm` | cfm or null | ± of the gain (95 %) |
//! | `cheapest.best[].power_watts` | W or null | electric power, from the table |
//! | `cheapest.best[].may_miss` | text | array of what its ± leaves open: `band`, `rated_maximum`, `heating` (a rise's range or the least air of a heat), `lost_air` (the most that may be lost on the way) |
//! | `cheapest.best[].gain_cfm` | cfm | as `after.gain_cfm` |
//! | `cheapest.best[].gain_up_to_cfm` | cfm | as `after.gain_up_to_cfm` |
//! | `cheapest.best[].tesp_in_wc` | in. w.c. | total external static |
//! | `cheapest.best[].to_rooms_cfm` | cfm | what comes out in the rooms |
//! | `cheapest.best[].condition_ids` | number | array of the numbers of the conditions that are on beside it |
//! | `cheapest.best[].only_with_conditions` | true, false | it is an answer only because of these |
//!
//! # `taps[]`
//!
//! | key | unit or kind | meaning |
//! | --- | --- | --- |
//! | `taps[].name` | text | as the door panel names it |
//! | `taps[].calls` | word | array of the calls that run it, words as `readings.call` |
//! | `taps[].in_use` | true, false | true for the tap that ran during the readings |
//! | `taps[].point` | object or null | where it runs on the path as read; null without an operating point or a crossing |
//! | `taps[].point.airflow_cfm` | cfm | actual airflow |
//! | `taps[].point.u95_airflow_cfm` | cfm | ± of it, 95 % |
//! | `taps[].point.airflow_below_cfm` | cfm | as `operating_point.airflow_below_cfm` |
//! | `taps[].point.density_band_other_end_cfm` | cfm | as `operating_point.density_band_other_end_cfm` |
//! | `taps[].point.gain_cfm` | cfm | as `after.gain_cfm` |
//! | `taps[].point.gain_up_to_cfm` | cfm | as `after.gain_up_to_cfm` |
//! | `taps[].point.u95_gain_cfm` | cfm | ± of the gain, 95 %; 0 for the tap in use |
//! | `taps[].point.standard_airflow_cfm` | cfm | airflow at standard air |
//! | `taps[].point.per_ton_standard_cfm` | cfm | airflow a ton at standard air |
//! | `taps[].point.of_target_fraction` | fraction | airflow over the target |
//! | `taps[].point.reach` | word | as `operating_point.reach` |
//! | `taps[].point.standing` | object | as `operating_point.standing` |
//! | `taps[].point.standing.curve` | word | as above |
//! | `taps[].point.standing.path` | word | as above |
//! | `taps[].point.tesp_in_wc` | in. w.c. | total external static there |
//! | `taps[].point.table_entry_in_wc` | in. w.c. | external static with which the table is entered |
//! | `taps[].point.plate` | object or null | as `operating_point.plate` |
//! | `taps[].point.plate.limit_in_wc` | in. w.c. | as above |
//! | `taps[].point.plate.worse_in_wc` | in. w.c. | as above |
//! | `taps[].point.plate.decides` | word | as above |
//! | `taps[].point.plate.side` | word | as above |
//! | `taps[].point.power_watts` | W | electric power by the table |
//! | `taps[].point.watts_per_cfm` | W/cfm | electric power for each cfm |
//! | `taps[].point.speed_rpm` | rpm | wheel speed by the table |
//! | `taps[].point.rises` | array | temperature rise of each heating stage at this airflow |
//! | `taps[].point.rises[].call` | word | as `readings.call` |
//! | `taps[].point.rises[].rise_f` | °F | a temperature difference; the blower's own heat is in it where `power_watts` is known |
//! | `taps[].point.rises[].u95_rise_f` | °F | ± of it, 95 %, by that of the airflow |
//! | `taps[].point.rises[].is_at_limit` | true, false | an end of the plate's range lies within ± |
//! | `taps[].point.rises[].heat_fraction` | fraction | share of the stage's heat that the rise is worked with: under 1 for a gas burner above 2,000 ft and for electric heat at a low supply |
//! | `taps[].point.rises[].side` | word | against the plate's range: `under_range`, `in_range`, `over_range` |
//! | `taps[].point.rises[].under_minimum_airflow` | true, false | airflow is under the least that this heat needs |
//! | `taps[].point.rises[].minimum_airflow_is_within_u95` | true, false | its ± leaves open whether it is |
//! | `taps[].point.rises[].rise_at_least_f` | °F | off the table: the rise with the published bound of the airflow, which it is at least |
//! | `taps[].point.barred` | true, false | the table bars the tap here |
//! | `taps[].point.bar_note` | text | the table's note to that |
//! | `taps[].point.table_note` | text | the table's note on a row near here |
//! | `taps[].point.is_answer` | true, false | in the target's band, not over the rated maximum, not barred |
//! | `taps[].point.within_u95_of` | word | array of limits on whose other side its ± reaches: `band` an edge of the target's band, `rated_maximum` |
//! | `taps[].after` | object or null | where it runs after the changes that are on, in short (more in `after.taps`); null without changes, without a crossing, or with another machine |
//! | `taps[].after.airflow_cfm` | cfm | actual airflow |
//! | `taps[].after.u95_airflow_cfm` | cfm | ± of it, 95 % |
//! | `taps[].after.gain_cfm` | cfm | as `after.gain_cfm` |
//! | `taps[].after.gain_up_to_cfm` | cfm | as `after.gain_up_to_cfm` |
//! | `taps[].after.u95_gain_cfm` | cfm | ± of the gain, 95 % |
//! | `taps[].after.tesp_in_wc` | in. w.c. | total external static there |
//! | `taps[].after.plate` | object or null | as `after.plate` |
//! | `taps[].after.plate.limit_in_wc` | in. w.c. | as above |
//! | `taps[].after.plate.worse_in_wc` | in. w.c. | as above |
//! | `taps[].after.plate.decides` | word | as above |
//! | `taps[].after.plate.side` | word | as above |
//! | `taps[].no_point` | object or null | why the tap has no crossing with the path |
//! | `taps[].no_point.code` | word | `past_the_end`, `single_row`, `unusable` |
//! | `taps[].no_point.airflow_below_cfm` | cfm | as in `why_not` |
//! | `taps[].no_point.curve_end_in_wc` | in. w.c. | as in `why_not` |
//! | `taps[].no_point.row_esp_in_wc` | in. w.c. | as in `why_not` |
//! | `taps[].no_point.row_airflow_cfm` | cfm | as in `why_not` |
//! | `taps[].need` | object or null | what the tap needs to deliver the full target, at or under the rated maximum; null without operating point or target |
//! | `taps[].need.code` | word | `none`: it delivers it; `ease`: the path must become easier; `never_enough`; `too_strong`: over the rated maximum here, over the band on an easier path; `barred` there; `unknown` |
//! | `taps[].need.airflow_cfm` | cfm | `ease`: the airflow that its drops are meant at: the target, or what the tap moves at the rated maximum where that is more; `too_strong`: what it moves there |
//! | `taps[].need.highest_tesp_in_wc` | in. w.c. | highest total external static at which the tap delivers the target |
//! | `taps[].need.path_drop_at_target_in_wc` | in. w.c. | `ease`: drop of the path at the target airflow (at `airflow_cfm` where that is more) |
//! | `taps[].need.allowed_in_wc` | in. w.c. | `ease`: the highest static or the plate, whichever is lower |
//! | `taps[].need.remove_in_wc` | in. w.c. | `ease`: drop that has to come out, at the target airflow (at `airflow_cfm` where that is more) |
//! | `taps[].need.remove_fraction` | fraction | `ease`: the same as a share of the path's drop |
//! | `taps[].need.tempting_in_wc` | in. w.c. | `ease`: the simple difference, today's static less the highest; it forgets that the drop grows with the airflow |
//! | `taps[].need.most_airflow_cfm` | cfm | `never_enough`: the most that the tap moves |
//! | `taps[].need.standing` | object or null | of the highest static and of what is said of the path, the worse of each part |
//! | `taps[].need.standing.curve` | word | as above |
//! | `taps[].need.standing.path` | word | as above |
//! | `taps[].need.into_band` | object | what it needs to land in the target's band at or under the rated maximum, which is what `is_answer` asks |
//! | `taps[].need.into_band.code` | word | as `taps[].need.code` |
//! | `taps[].need.into_band.airflow_cfm` | cfm | `ease`: airflow at the band's lower end, or what the tap moves at the rated maximum where that is more |
//! | `taps[].need.into_band.path_drop_in_wc` | in. w.c. | `ease`: drop of the path there |
//! | `taps[].need.into_band.allowed_in_wc` | in. w.c. | `ease`: the highest static at which the tap moves that airflow, at most the plate |
//! | `taps[].need.into_band.remove_in_wc` | in. w.c. | `ease`: drop that has to come out there |
//! | `taps[].need.into_band.remove_fraction` | fraction | `ease`: the same as a share of the path's drop |
//!
//! # Words
//!
//! | key | unit or kind | meaning |
//! | --- | --- | --- |
//! | `assumptions[].code` | word | `outside_drop_unknown`, `inside_drop_unknown`, `filter_as_tested_unknown`, `as_tested_unknown`, `wet_coil_unknown`, `dry_coil_unknown`, `return_openings_differ`, `voltage_differs`, `by_data`, `voltage_by_table` |
//! | `assumptions[].part` | word | the element that it is about, words as `readings.places[].after` |
//! | `assumptions[].sentence` | text | which way it errs |
//! | `cautions[].word` | word | `no_heat`, `drilling`, `live_circuits`, `tap_change`, `venting`, `return_air`, `coil_work`, `repairs`, `filter`, `machine`, `panel_off` |
//! | `cautions[].sentence` | text | what has to be minded |
//! | `findings[].kind` | word | `pulled` (parts were out that other readings of the visit have in place: a test), `plate`, `part_takes`, `return_takes`, `supply_takes`, `ducts_take`, `nothing_left`, `air_lost`, `little_static`, `too_much_air`, `next_tap`, `taps_that_reach`, `no_tap_reaches`, `under_plate`, `rise`, `under_heat_minimum`, `at_heat_minimum`, `watts_per_cfm`, `watts_differ`, `second_airflow`, `barred`, `knee`, `no_knee`, `other_end`, `one_row`, `total_differs`, `corrected`, `takes_more`, `density`, `assumed` |
//! | `findings[].weight` | word | `act`, `look`, `note` |
//! | `findings[].sentence` | text | in inch-pound units |
//! | `problems[].field` | word | `return_reading`, `supply_reading`, `total_reading`, `across_reading`, `tap`, `target`, `capacity`, `altitude`, `station_pressure`, `temperature`, `humidity`, `power`, `voltage`, `accept_band`, `return_length`, `supply_length`, `design_static`, `path` |
//! | `problems[].severity` | word | `question`: the number is used; `error`: nothing is worked out until it is mended |
//! | `problems[].sentence` | text | names the value and says what would be right |
//! | `table_problems[].tap` | text | name of the tap that it concerns |
//! | `table_problems[].row` | number | row in the tap's column, counted from 1 |
//! | `table_problems[].severity` | word | `question`; `error`: the tap is not used |
//! | `table_problems[].sentence` | text | names place and value |
//! | `verdict.headline` | text | where it runs, against target and plate; or what to do first |
//! | `verdict.detail` | text | what takes the static and what to look at next |
//!
//! # `limits` and `accuracy`
//!
//! | key | unit or kind | meaning |
//! | --- | --- | --- |
//! | `limits.accept_band_fraction` | fraction | accepted difference from the target |
//! | `limits.return_drop_in_wc` | in. w.c. | most that the return side should take |
//! | `limits.filter_drop_in_wc` | in. w.c. | what a filter on that side may take besides |
//! | `limits.coil_drop_in_wc` | in. w.c. | what a wet coil on that side may take besides |
//! | `limits.furnace_supply_drop_in_wc` | in. w.c. | as the job's file has it; no longer used: the supply's limit is the rated maximum less what the return side may take |
//! | `limits.least_static_in_wc` | in. w.c. | total static under this is too little for a sound system |
//! | `limits.least_of_design_fraction` | fraction | so is total static under this share of the design static |
//! | `limits.lost_air_fraction` | fraction | most of the blower's air that leaks and bypass may keep from the rooms |
//! | `limits.most_out_of_path_fraction` | fraction | most of a path's drop that work on it takes out |
//! | `limits.duct_velocity_fpm` | fpm | velocity in a new return's duct past which it is heard |
//! | `limits.grille_velocity_fpm` | fpm | the same at the face of a new or another return grille |
//! | `limits.watts_per_cfm` | W/cfm | most electric power for each cfm |
//! | `limits.furnace_watts_per_cfm` | W/cfm | the same of a gas furnace |
//! | `accuracy.manometer_fraction` | fraction | limit of error of the manometer, of the reading |
//! | `accuracy.manometer_floor_in_wc` | in. w.c. | and never less than this |
//! | `accuracy.port_offset_in_wc` | in. w.c. | limit of a port's own constant error |
//! | `accuracy.reading_scatter_in_wc` | in. w.c. | limit of what the same reading taken again differs by |
//! | `accuracy.table_fraction` | fraction | error of the table's airflow at 95 %, common to its taps |
//! | `accuracy.tap_fraction` | fraction | what each tap is off by itself, at 95 % |
//! | `accuracy.data_fraction` | fraction | error of published drops at 95 % |
//! | `accuracy.table_power_fraction` | fraction | error of the table's watts, at 95 % |
//! | `accuracy.wattmeter_fraction` | fraction | limit of error of the wattmeter, of what it reads |
//! | `accuracy.thermometer_f` | °F | limit of error of each of two thermometers, a difference |
//! | `accuracy.heat_fraction` | fraction | error of the heat that goes in, as measured, at 95 % |
//! | `accuracy.rated_heat_fraction` | fraction | error of the heat by the rating plate, at 95 % |
//! | `accuracy.change_fraction` | fraction | error of what a change does, at 95 % |
//! | `accuracy.guessed_odds_ratio` | ratio | factor on the odds of a share that nobody stated, up or down, at 95 % |
//! | `accuracy.exponent` | number | error at 95 % of the exponent of a path that nobody has split |

mod changes;
mod ducts;
mod given;
mod judged;
mod part;
mod point;
mod remarks;
mod sizes;
mod system;
mod taps;
mod tree;
mod visit;
mod whole;
mod words;
mod written;

pub use whole::{REPORT_VERSION, Report};
pub use written::{many, one};

#[cfg(test)]
mod tests;
