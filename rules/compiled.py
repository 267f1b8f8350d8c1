"""Generated from rule text by `python -m axisproof.catalogue.build`. Do not edit."""

# ruff: noqa
# mypy: ignore-errors

from axisproof.base.absence import NONE
from axisproof.language.helpers import HELPERS
from axisproof.numbers.quantity import Pi
from axisproof.numbers.rational import Fraction

DIGEST = '795331-2aca5937'
ENTRIES = (
    ('serial-numbers-unique', 'warning', 'machine', None, ('machine',), 'r_serial_numbers_unique'),
    ('drive-found-on-network', 'error', 'axis', None, ('axis', 'machine'), 'r_drive_found_on_network'),
    ('node-of-axis-is-a-drive', 'error', 'axis', None, ('axis', 'machine'), 'r_node_of_axis_is_a_drive'),
    ('drive-at-node-is-the-fitted-one', 'error', 'axis', None, ('axis', 'machine'), 'r_drive_at_node_is_the_fitted_one'),
    ('drive-runs-firmware-on-record', 'warning', 'axis', None, ('axis', 'machine'), 'r_drive_runs_firmware_on_record'),
    ('drive-on-network-has-axis', 'warning', 'machine', None, ('machine',), 'r_drive_on_network_has_axis'),
    ('drive-firmware-not-too-old', 'warning', 'axis', None, ('axis', 'machine'), 'r_drive_firmware_not_too_old'),
    ('gantry-partner-is-an-axis', 'error', 'axis', None, ('axis', 'machine'), 'r_gantry_partner_is_an_axis'),
    ('collision-pair-names-axes', 'error', 'machine', None, ('machine',), 'r_collision_pair_names_axes'),
    ('homing-order-names-axes', 'error', 'axis', None, ('axis', 'machine'), 'r_homing_order_names_axes'),
    ('commutation-taught-with-fitted-pair', 'error', 'axis', None, ('axis', 'machine'), 'r_commutation_taught_with_fitted_pair'),
    ('records-are-not-of-tomorrow', 'warning', 'axis', None, ('axis', 'machine'), 'r_records_are_not_of_tomorrow'),
    ('brake-releases-before-motion', 'error', 'axis', None, ('axis', 'machine'), 'r_brake_releases_before_motion'),
    ('brake-holds-before-torque-goes', 'error', 'axis', None, ('axis', 'machine'), 'r_brake_holds_before_torque_goes'),
    ('brake-voltage-fits', 'error', 'axis', None, ('axis', 'machine'), 'r_brake_voltage_fits'),
    ('suspended-load-caught-in-time', 'error', 'axis', None, ('axis', 'machine'), 'r_suspended_load_caught_in_time'),
    ('power-cut-stops-before-hard-stop', 'error', 'axis', None, ('axis', 'machine'), 'r_power_cut_stops_before_hard_stop'),
    ('axis-that-gravity-moves-is-noted', 'warning', 'axis', None, ('axis', 'machine'), 'r_axis_that_gravity_moves_is_noted'),
    ('axis-that-gravity-turns-is-noted', 'warning', 'axis', None, ('axis', 'machine'), 'r_axis_that_gravity_turns_is_noted'),
    ('stop-option-agrees-with-category', 'warning', 'axis', None, ('axis', 'machine'), 'r_stop_option_agrees_with_category'),
    ('changed-scaling-is-taught-again', 'error', 'change', None, ('before', 'after', 'machine'), 'r_changed_scaling_is_taught_again'),
    ('changed-scaling-moves-limits', 'warning', 'change', None, ('before', 'after', 'machine'), 'r_changed_scaling_moves_limits'),
    ('changed-scaling-moves-cycle', 'warning', 'change', None, ('before', 'after', 'machine'), 'r_changed_scaling_moves_cycle'),
    ('replaced-encoder-is-taught-again', 'error', 'change', None, ('before', 'after', 'machine'), 'r_replaced_encoder_is_taught_again'),
    ('replaced-motor-is-taught-again', 'error', 'change', None, ('before', 'after', 'machine'), 'r_replaced_motor_is_taught_again'),
    ('replaced-drive-is-taught-again', 'error', 'change', None, ('before', 'after', 'machine'), 'r_replaced_drive_is_taught_again'),
    ('replaced-parts-have-commutation-taught', 'error', 'change', None, ('before', 'after', 'machine'), 'r_replaced_parts_have_commutation_taught'),
    ('turn-count-changed-on-both-sides', 'error', 'change', None, ('before', 'after', 'machine'), 'r_turn_count_changed_on_both_sides'),
    ('changed-turn-count-is-taught-again', 'error', 'change', None, ('before', 'after', 'machine'), 'r_changed_turn_count_is_taught_again'),
    ('turned-direction-is-taught-again', 'error', 'change', None, ('before', 'after', 'machine'), 'r_turned_direction_is_taught_again'),
    ('changed-homing-is-taught-again', 'error', 'change', None, ('before', 'after', 'machine'), 'r_changed_homing_is_taught_again'),
    ('moved-reference-has-a-record', 'warning', 'change', None, ('before', 'after', 'machine'), 'r_moved_reference_has_a_record'),
    ('interlock-triggers-are-kept', 'error', 'change', None, ('before', 'after', 'machine'), 'r_interlock_triggers_are_kept'),
    ('interlocks-are-as-strict-as-before', 'error', 'change', None, ('before', 'after', 'machine'), 'r_interlocks_are_as_strict_as_before'),
    ('software-limits-are-not-widened', 'warning', 'change', None, ('before', 'after', 'machine'), 'r_software_limits_are_not_widened'),
    ('software-limits-stay-in-force', 'warning', 'change', None, ('before', 'after', 'machine'), 'r_software_limits_stay_in_force'),
    ('raised-speed-still-stops-in-time', 'error', 'change', None, ('before', 'after', 'machine'), 'r_raised_speed_still_stops_in_time'),
    ('changed-unit-leaves-lengths-alone', 'error', 'change', None, ('before', 'after', 'machine'), 'r_changed_unit_leaves_lengths_alone'),
    ('brake-is-as-strong-as-before', 'error', 'change', None, ('before', 'after', 'machine'), 'r_brake_is_as_strong_as_before'),
    ('drive-stops-as-hard-as-before', 'warning', 'change', None, ('before', 'after', 'machine'), 'r_drive_stops_as_hard_as_before'),
    ('controller-stops-as-hard-as-before', 'warning', 'change', None, ('before', 'after', 'machine'), 'r_controller_stops_as_hard_as_before'),
    ('wraps-are-still-retained', 'error', 'change', None, ('before', 'after', 'machine'), 'r_wraps_are_still_retained'),
    ('following-error-is-watched-as-closely', 'warning', 'change', None, ('before', 'after', 'machine'), 'r_following_error_is_watched_as_closely'),
    ('condition-codes-unique', 'error', 'machine', None, ('machine',), 'r_condition_codes_unique'),
    ('conditions-of-lost-turns-have-codes', 'warning', 'machine', None, ('machine',), 'r_conditions_of_lost_turns_have_codes'),
    ('doubtful-position-clears-by-homing', 'error', 'machine', None, ('machine',), 'r_doubtful_position_clears_by_homing'),
    ('replaced-part-stays-noticed', 'warning', 'machine', None, ('machine',), 'r_replaced_part_stays_noticed'),
    ('unknown-commutation-clears-by-teaching', 'error', 'machine', None, ('machine',), 'r_unknown_commutation_clears_by_teaching'),
    ('condition-tells-what-to-do', 'warning', 'machine', None, ('machine',), 'r_condition_tells_what_to_do'),
    ('rehome-interlock-tells-operator', 'warning', 'axis', None, ('axis', 'machine'), 'r_rehome_interlock_tells_operator'),
    ('polarity-of-position-and-velocity-agree', 'error', 'axis', None, ('axis', 'machine'), 'r_polarity_of_position_and_velocity_agree'),
    ('axis-moves-the-way-it-is-told', 'error', 'axis', None, ('axis', 'machine'), 'r_axis_moves_the_way_it_is_told'),
    ('drive-knows-count-direction', 'error', 'axis', None, ('axis', 'machine'), 'r_drive_knows_count_direction'),
    ('limit-inputs-stop-the-right-way', 'error', 'axis', None, ('axis', 'machine'), 'r_limit_inputs_stop_the_right_way'),
    ('gantry-partners-name-each-other', 'error', 'axis', ('other', 'gantry.partner', 'name'), ('axis', 'other', 'machine'), 'r_gantry_partners_name_each_other'),
    ('gantry-has-one-leader', 'error', 'machine', None, ('machine',), 'r_gantry_has_one_leader'),
    ('gantry-partners-reference-alike', 'error', 'axis', ('other', 'gantry.partner', 'name'), ('axis', 'other', 'machine'), 'r_gantry_partners_reference_alike'),
    ('gantry-partners-move-alike', 'error', 'axis', ('other', 'gantry.partner', 'name'), ('axis', 'other', 'machine'), 'r_gantry_partners_move_alike'),
    ('gantry-partners-limits-alike', 'error', 'axis', ('other', 'gantry.partner', 'name'), ('axis', 'other', 'machine'), 'r_gantry_partners_limits_alike'),
    ('gantry-partners-stop-together', 'error', 'axis', ('other', 'gantry.partner', 'name'), ('axis', 'other', 'machine'), 'r_gantry_partners_stop_together'),
    ('gantry-partners-lag-alike', 'error', 'axis', ('other', 'gantry.partner', 'name'), ('axis', 'other', 'machine'), 'r_gantry_partners_lag_alike'),
    ('gantry-references-square', 'error', 'axis', ('other', 'gantry.partner', 'name'), ('axis', 'other', 'machine'), 'r_gantry_references_square'),
    ('gantry-partners-set-at-one-position', 'error', 'axis', ('other', 'gantry.partner', 'name'), ('axis', 'other', 'machine'), 'r_gantry_partners_set_at_one_position'),
    ('gantry-partners-home-together', 'warning', 'axis', ('other', 'gantry.partner', 'name'), ('axis', 'other', 'machine'), 'r_gantry_partners_home_together'),
    ('rehome-interlock-inhibits-collision-partner', 'error', 'axis', None, ('axis', 'machine'), 'r_rehome_interlock_inhibits_collision_partner'),
    ('encoder-counts-match', 'error', 'axis', None, ('axis', 'machine'), 'r_encoder_counts_match'),
    ('encoder-counts-stated-alike', 'error', 'axis', None, ('axis', 'machine'), 'r_encoder_counts_stated_alike'),
    ('encoder-counts-within-capability', 'error', 'axis', None, ('axis', 'machine'), 'r_encoder_counts_within_capability'),
    ('controller-scaling-stated-alike', 'error', 'axis', None, ('axis', 'machine'), 'r_controller_scaling_stated_alike'),
    ('controller-scaling-exact', 'error', 'axis', None, ('axis', 'machine'), 'r_controller_scaling_exact'),
    ('drive-gear-exact', 'error', 'axis', None, ('axis', 'machine'), 'r_drive_gear_exact'),
    ('drive-gear-within-limits', 'error', 'axis', None, ('axis', 'machine'), 'r_drive_gear_within_limits'),
    ('drive-gear-limits-in-order', 'error', 'axis', None, ('axis', 'machine'), 'r_drive_gear_limits_in_order'),
    ('drive-position-factors-agree', 'error', 'axis', None, ('axis', 'machine'), 'r_drive_position_factors_agree'),
    ('ratio-typed-short', 'warning', 'axis', None, ('axis', 'machine'), 'r_ratio_typed_short'),
    ('ratio-as-exact-as-on-record', 'warning', 'axis', None, ('axis', 'machine'), 'r_ratio_as_exact_as_on_record'),
    ('final-element-fits-axis', 'error', 'axis', None, ('axis', 'machine'), 'r_final_element_fits_axis'),
    ('mechanics-stated-alike', 'error', 'axis', None, ('axis', 'machine'), 'r_mechanics_stated_alike'),
    ('cycle-is-whole-counts', 'error', 'axis', None, ('axis', 'machine'), 'r_cycle_is_whole_counts'),
    ('hard-stop-homing-presses-gently', 'error', 'axis', None, ('axis', 'machine'), 'r_hard_stop_homing_presses_gently'),
    ('hard-stop-homing-carries-load', 'error', 'axis', None, ('axis', 'machine'), 'r_hard_stop_homing_carries_load'),
    ('hard-stop-homing-minds-following-error', 'warning', 'axis', None, ('axis', 'machine'), 'r_hard_stop_homing_minds_following_error'),
    ('homing-direction-fits-method', 'error', 'axis', None, ('axis', 'machine'), 'r_homing_direction_fits_method'),
    ('forgetful-axis-not-set-by-hand', 'warning', 'axis', None, ('axis', 'machine'), 'r_forgetful_axis_not_set_by_hand'),
    ('reference-at-its-own-end', 'error', 'axis', None, ('axis', 'machine'), 'r_reference_at_its_own_end'),
    ('reference-where-switch-stands', 'warning', 'axis', None, ('axis', 'machine'), 'r_reference_where_switch_stands'),
    ('reference-within-travel', 'error', 'axis', None, ('axis', 'machine'), 'r_reference_within_travel'),
    ('reference-within-cycle', 'warning', 'axis', None, ('axis', 'machine'), 'r_reference_within_cycle'),
    ('homing-order-without-circle', 'error', 'machine', None, ('machine',), 'r_homing_order_without_circle'),
    ('homing-order-parts-collision-pairs', 'warning', 'machine', None, ('machine',), 'r_homing_order_parts_collision_pairs'),
    ('homing-method-not-reserved', 'error', 'axis', None, ('axis', 'machine'), 'r_homing_method_not_reserved'),
    ('homing-method-has-known-traits', 'note', 'axis', None, ('axis', 'machine'), 'r_homing_method_has_known_traits'),
    ('index-alone-is-clear', 'error', 'axis', None, ('axis', 'machine'), 'r_index_alone_is_clear'),
    ('homing-method-not-withdrawn', 'warning', 'axis', None, ('axis', 'machine'), 'r_homing_method_not_withdrawn'),
    ('homing-method-supported', 'error', 'axis', None, ('axis', 'machine'), 'r_homing_method_supported'),
    ('homing-method-has-its-switches', 'error', 'axis', None, ('axis', 'machine'), 'r_homing_method_has_its_switches'),
    ('home-switch-input-in-use', 'error', 'axis', None, ('axis', 'machine'), 'r_home_switch_input_in_use'),
    ('limit-switch-inputs-in-use', 'error', 'axis', None, ('axis', 'machine'), 'r_limit_switch_inputs_in_use'),
    ('limit-cam-reaches-hard-stop', 'error', 'axis', None, ('axis', 'machine'), 'r_limit_cam_reaches_hard_stop'),
    ('home-switch-covers-travel-end', 'error', 'axis', None, ('axis', 'machine'), 'r_home_switch_covers_travel_end'),
    ('index-beyond-switch-scatter', 'error', 'axis', None, ('axis', 'machine'), 'r_index_beyond_switch_scatter'),
    ('index-clear-of-switch-edge', 'warning', 'axis', None, ('axis', 'machine'), 'r_index_clear_of_switch_edge'),
    ('home-switch-long-enough-for-search', 'error', 'axis', None, ('axis', 'machine'), 'r_home_switch_long_enough_for_search'),
    ('home-switch-between-limit-switches', 'error', 'axis', None, ('axis', 'machine'), 'r_home_switch_between_limit_switches'),
    ('search-ends-before-limit-switch', 'warning', 'axis', None, ('axis', 'machine'), 'r_search_ends_before_limit_switch'),
    ('search-stops-before-hard-stop', 'error', 'axis', None, ('axis', 'machine'), 'r_search_stops_before_hard_stop'),
    ('creep-slower-than-search', 'warning', 'axis', None, ('axis', 'machine'), 'r_creep_slower_than_search'),
    ('homing-repeats-well-enough', 'warning', 'axis', None, ('axis', 'machine'), 'r_homing_repeats_well_enough'),
    ('home-method-needs-index', 'error', 'axis', None, ('axis', 'machine'), 'r_home_method_needs_index'),
    ('absolute-encoder-used-as-absolute', 'warning', 'axis', None, ('axis', 'machine'), 'r_absolute_encoder_used_as_absolute'),
    ('incremental-encoder-used-as-incremental', 'error', 'axis', None, ('axis', 'machine'), 'r_incremental_encoder_used_as_incremental'),
    ('forgetful-axis-is-homed', 'error', 'axis', None, ('axis', 'machine'), 'r_forgetful_axis_is_homed'),
    ('reference-has-been-taught', 'error', 'axis', None, ('axis', 'machine'), 'r_reference_has_been_taught'),
    ('reference-taught-with-fitted-encoder', 'error', 'axis', None, ('axis', 'machine'), 'r_reference_taught_with_fitted_encoder'),
    ('preset-with-fitted-encoder', 'error', 'axis', None, ('axis', 'machine'), 'r_preset_with_fitted_encoder'),
    ('reference-taught-with-fitted-motor', 'error', 'axis', None, ('axis', 'machine'), 'r_reference_taught_with_fitted_motor'),
    ('reference-taught-with-fitted-drive', 'error', 'axis', None, ('axis', 'machine'), 'r_reference_taught_with_fitted_drive'),
    ('homing-search-within-top-speed', 'error', 'axis', None, ('axis', 'machine'), 'r_homing_search_within_top_speed'),
    ('homing-acceleration-within-highest', 'warning', 'axis', None, ('axis', 'machine'), 'r_homing_acceleration_within_highest'),
    ('homing-at-reduced-speed', 'warning', 'axis', None, ('axis', 'machine'), 'r_homing_at_reduced_speed'),
    ('homing-acceleration-attainable', 'error', 'axis', None, ('axis', 'machine'), 'r_homing_acceleration_attainable'),
    ('hard-stop-met-slowly', 'warning', 'axis', None, ('axis', 'machine'), 'r_hard_stop_met_slowly'),
    ('hard-stop-homing-lifts-load', 'error', 'axis', None, ('axis', 'machine'), 'r_hard_stop_homing_lifts_load'),
    ('homing-repeats-within-accuracy', 'warning', 'axis', None, ('axis', 'machine'), 'r_homing_repeats_within_accuracy'),
    ('rehome-interlock-clears-homed-flag', 'error', 'axis', None, ('axis', 'machine'), 'r_rehome_interlock_clears_homed_flag'),
    ('rehome-interlock-caps-speed', 'error', 'axis', None, ('axis', 'machine'), 'r_rehome_interlock_caps_speed'),
    ('known-position-has-software-limits', 'note', 'axis', None, ('axis', 'machine'), 'r_known_position_has_software_limits'),
    ('software-limits-await-homing', 'warning', 'axis', None, ('axis', 'machine'), 'r_software_limits_await_homing'),
    ('rehome-interlock-on-lost-position', 'error', 'axis', None, ('axis', 'machine'), 'r_rehome_interlock_on_lost_position'),
    ('rehome-interlock-on-doubtful-turns', 'error', 'axis', None, ('axis', 'machine'), 'r_rehome_interlock_on_doubtful_turns'),
    ('rehome-interlock-on-replaced-parts', 'error', 'axis', None, ('axis', 'machine'), 'r_rehome_interlock_on_replaced_parts'),
    ('rehome-interlock-inhibits-motion', 'error', 'axis', None, ('axis', 'machine'), 'r_rehome_interlock_inhibits_motion'),
    ('rehome-interlock-released-by-homing', 'error', 'axis', None, ('axis', 'machine'), 'r_rehome_interlock_released_by_homing'),
    ('rehome-interlock-inhibits-gantry-partner', 'error', 'axis', None, ('axis', 'machine'), 'r_rehome_interlock_inhibits_gantry_partner'),
    ('limit-switches-in-order', 'error', 'axis', None, ('axis', 'machine'), 'r_limit_switches_in_order'),
    ('software-limits-leave-room-to-stop', 'error', 'axis', None, ('axis', 'machine'), 'r_software_limits_leave_room_to_stop'),
    ('limit-switch-stops-before-hard-stop', 'error', 'axis', None, ('axis', 'machine'), 'r_limit_switch_stops_before_hard_stop'),
    ('hard-stop-is-not-the-only-limit', 'warning', 'axis', None, ('axis', 'machine'), 'r_hard_stop_is_not_the_only_limit'),
    ('top-speed-in-its-unit', 'error', 'axis', None, ('axis', 'machine'), 'r_top_speed_in_its_unit'),
    ('top-speed-within-motor-and-drive', 'error', 'axis', None, ('axis', 'machine'), 'r_top_speed_within_motor_and_drive'),
    ('drive-speed-limit-within-motor', 'warning', 'axis', None, ('axis', 'machine'), 'r_drive_speed_limit_within_motor'),
    ('top-speed-within-encoder', 'error', 'axis', None, ('axis', 'machine'), 'r_top_speed_within_encoder'),
    ('count-rate-within-inputs', 'error', 'axis', None, ('axis', 'machine'), 'r_count_rate_within_inputs'),
    ('vertical-axis-has-brake', 'error', 'axis', None, ('axis', 'machine'), 'r_vertical_axis_has_brake'),
    ('brake-holds-load', 'error', 'axis', None, ('axis', 'machine'), 'r_brake_holds_load'),
    ('brake-holds-linear-motor', 'error', 'axis', None, ('axis', 'machine'), 'r_brake_holds_linear_motor'),
    ('vertical-agrees-with-inclination', 'error', 'axis', None, ('axis', 'machine'), 'r_vertical_agrees_with_inclination'),
    ('following-error-window-above-lag', 'error', 'axis', None, ('axis', 'machine'), 'r_following_error_window_above_lag'),
    ('following-error-window-within-free-distance', 'error', 'axis', None, ('axis', 'machine'), 'r_following_error_window_within_free_distance'),
    ('following-error-found-before-damage', 'warning', 'axis', None, ('axis', 'machine'), 'r_following_error_found_before_damage'),
    ('cycle-times-are-multiples', 'error', 'axis', None, ('axis', 'machine'), 'r_cycle_times_are_multiples'),
    ('ramp-time-plausible', 'warning', 'axis', None, ('axis', 'machine'), 'r_ramp_time_plausible'),
    ('jerk-fits-acceleration', 'warning', 'axis', None, ('axis', 'machine'), 'r_jerk_fits_acceleration'),
    ('position-gain-fits-cycle', 'error', 'axis', None, ('axis', 'machine'), 'r_position_gain_fits_cycle'),
    ('backlash-within-accuracy', 'warning', 'axis', None, ('axis', 'machine'), 'r_backlash_within_accuracy'),
    ('resolution-within-accuracy', 'warning', 'axis', None, ('axis', 'machine'), 'r_resolution_within_accuracy'),
    ('one-device-at-an-address', 'error', 'machine', None, ('machine',), 'r_one_device_at_an_address'),
    ('unique-node-addresses', 'error', 'machine', None, ('machine',), 'r_unique_node_addresses'),
    ('battery-keeps-turns', 'error', 'axis', None, ('axis', 'machine'), 'r_battery_keeps_turns'),
    ('battery-in-one-place', 'error', 'axis', None, ('axis', 'machine'), 'r_battery_in_one_place'),
    ('battery-where-a-place-is-offered', 'warning', 'axis', None, ('axis', 'machine'), 'r_battery_where_a_place_is_offered'),
    ('battery-within-its-life', 'error', 'axis', None, ('axis', 'machine'), 'r_battery_within_its_life'),
    ('battery-change-due', 'warning', 'axis', None, ('axis', 'machine'), 'r_battery_change_due'),
    ('low-battery-is-noticed', 'warning', 'axis', None, ('axis', 'machine'), 'r_low_battery_is_noticed'),
    ('batteryless-counter-without-battery', 'warning', 'axis', None, ('axis', 'machine'), 'r_batteryless_counter_without_battery'),
    ('power-off-speed-within-counting-limit', 'error', 'axis', None, ('axis', 'machine'), 'r_power_off_speed_within_counting_limit'),
    ('screw-below-critical-speed', 'error', 'axis', None, ('axis', 'machine'), 'r_screw_below_critical_speed'),
    ('screw-within-permitted-speed', 'error', 'axis', None, ('axis', 'machine'), 'r_screw_within_permitted_speed'),
    ('screw-does-not-buckle', 'error', 'axis', None, ('axis', 'machine'), 'r_screw_does_not_buckle'),
    ('spare-torque-not-below-fitted', 'error', 'spare', None, ('axis', 'fitted', 'machine'), 'r_spare_torque_not_below_fitted'),
    ('spare-rotor-like-fitted', 'warning', 'spare', None, ('axis', 'fitted', 'machine'), 'r_spare_rotor_like_fitted'),
    ('spare-has-brake-like-fitted', 'error', 'spare', None, ('axis', 'fitted', 'machine'), 'r_spare_has_brake_like_fitted'),
    ('spare-brake-holds-like-fitted', 'error', 'spare', None, ('axis', 'fitted', 'machine'), 'r_spare_brake_holds_like_fitted'),
    ('spare-brake-voltage-like-fitted', 'error', 'spare', None, ('axis', 'fitted', 'machine'), 'r_spare_brake_voltage_like_fitted'),
    ('spare-battery-lasts-as-long', 'warning', 'spare', None, ('axis', 'fitted', 'machine'), 'r_spare_battery_lasts_as_long'),
    ('acceleration-torque-available', 'error', 'axis', None, ('axis', 'machine'), 'r_acceleration_torque_available'),
    ('stop-deceleration-attainable', 'error', 'axis', None, ('axis', 'machine'), 'r_stop_deceleration_attainable'),
    ('efficiency-is-a-share', 'error', 'axis', None, ('axis', 'machine'), 'r_efficiency_is_a_share'),
    ('torque-limit-within-motor-peak', 'error', 'axis', None, ('axis', 'machine'), 'r_torque_limit_within_motor_peak'),
    ('motor-data-in-order', 'error', 'axis', None, ('axis', 'machine'), 'r_motor_data_in_order'),
    ('top-speed-within-rated-speed', 'warning', 'axis', None, ('axis', 'machine'), 'r_top_speed_within_rated_speed'),
    ('duty-carries-the-weight', 'warning', 'axis', None, ('axis', 'machine'), 'r_duty_carries_the_weight'),
    ('duty-within-rated-torque', 'error', 'axis', None, ('axis', 'machine'), 'r_duty_within_rated_torque'),
    ('duty-peaks-within-limits', 'error', 'axis', None, ('axis', 'machine'), 'r_duty_peaks_within_limits'),
    ('inertia-ratio-within-reason', 'warning', 'axis', None, ('axis', 'machine'), 'r_inertia_ratio_within_reason'),
    ('coupling-carries-peak-torque', 'warning', 'axis', None, ('axis', 'machine'), 'r_coupling_carries_peak_torque'),
    ('returned-power-within-drive', 'error', 'axis', None, ('axis', 'machine'), 'r_returned_power_within_drive'),
    ('turn-counts-match', 'error', 'axis', None, ('axis', 'machine'), 'r_turn_counts_match'),
    ('turn-count-within-capability', 'error', 'axis', None, ('axis', 'machine'), 'r_turn_count_within_capability'),
    ('rollover-divides-cycle', 'error', 'axis', None, ('axis', 'machine'), 'r_rollover_divides_cycle'),
    ('endless-axis-with-pi-retains-wraps', 'error', 'axis', None, ('axis', 'machine'), 'r_endless_axis_with_pi_retains_wraps'),
    ('reading-within-turn-count', 'error', 'axis', None, ('axis', 'machine'), 'r_reading_within_turn_count'),
    ('angle-within-turn', 'error', 'axis', None, ('axis', 'machine'), 'r_angle_within_turn'),
    ('linear-encoder-covers-travel', 'error', 'axis', None, ('axis', 'machine'), 'r_linear_encoder_covers_travel'),
    ('turn-range-covers-travel', 'error', 'axis', None, ('axis', 'machine'), 'r_turn_range_covers_travel'),
    ('wrap-outside-travel', 'error', 'axis', None, ('axis', 'machine'), 'r_wrap_outside_travel'),
    ('unfolding-agrees-with-wraps-retained', 'error', 'axis', None, ('axis', 'machine'), 'r_unfolding_agrees_with_wraps_retained'),
    ('endless-axis-counts-in-cycles', 'warning', 'axis', None, ('axis', 'machine'), 'r_endless_axis_counts_in_cycles'),
    ('position-of-no-matter-bounds-nothing', 'error', 'axis', None, ('axis', 'machine'), 'r_position_of_no_matter_bounds_nothing'),
    ('power-off-motion-under-half-range', 'error', 'axis', None, ('axis', 'machine'), 'r_power_off_motion_under_half_range'),
    ('position-register-holds-range', 'error', 'axis', None, ('axis', 'machine'), 'r_position_register_holds_range'),
    ('position-register-holds-travel', 'error', 'axis', None, ('axis', 'machine'), 'r_position_register_holds_travel'),
    ('quadrature-factor-used-once', 'error', 'axis', None, ('axis', 'machine'), 'r_quadrature_factor_used_once'),
    ('controller-scaling-without-slip', 'error', 'axis', None, ('axis', 'machine'), 'r_controller_scaling_without_slip'),
    ('drive-gear-not-upside-down', 'error', 'axis', None, ('axis', 'machine'), 'r_drive_gear_not_upside_down'),
    ('drive-gear-ratio-not-upside-down', 'error', 'axis', None, ('axis', 'machine'), 'r_drive_gear_ratio_not_upside_down'),
    ('controller-unit-fits-motion', 'error', 'axis', None, ('axis', 'machine'), 'r_controller_unit_fits_motion'),
    ('hard-stops-in-order', 'error', 'axis', None, ('axis', 'machine'), 'r_hard_stops_in_order'),
    ('software-limits-in-order', 'error', 'axis', None, ('axis', 'machine'), 'r_software_limits_in_order'),
    ('total-range-is-whole-turns', 'error', 'axis', None, ('axis', 'machine'), 'r_total_range_is_whole_turns'),
    ('cycle-not-turns-for-degrees', 'warning', 'axis', None, ('axis', 'machine'), 'r_cycle_not_turns_for_degrees'),
    ('position-range-spans-cycle', 'error', 'axis', None, ('axis', 'machine'), 'r_position_range_spans_cycle'),
    ('position-range-holds-travel', 'error', 'axis', None, ('axis', 'machine'), 'r_position_range_holds_travel'),
    ('command-rate-within-drive', 'error', 'axis', None, ('axis', 'machine'), 'r_command_rate_within_drive'),
    ('controller-register-holds-range', 'error', 'axis', None, ('axis', 'machine'), 'r_controller_register_holds_range'),
    ('controller-register-holds-travel', 'error', 'axis', None, ('axis', 'machine'), 'r_controller_register_holds_travel'),
)

between = HELPERS['between']
capped = HELPERS['capped']
charged = HELPERS['charged']
distinct = HELPERS['distinct']
disputed = HELPERS['disputed']
div = HELPERS['div']
divides = HELPERS['divides']
eq = HELPERS['eq']
extreme = HELPERS['extreme']
is_whole = HELPERS['is_whole']
matching = HELPERS['matching']
metered = HELPERS['metered']
raised = HELPERS['raised']
within = HELPERS['within']
f_stopping_distance = HELPERS['f_stopping_distance']
f_stopping_distance_with_jerk = HELPERS['f_stopping_distance_with_jerk']
f_sine = HELPERS['f_sine']
f_square_root = HELPERS['f_square_root']
f_numerator = HELPERS['f_numerator']
f_denominator = HELPERS['f_denominator']
f_floor = HELPERS['f_floor']
f_remainder = HELPERS['f_remainder']
f_nearest_remainder = HELPERS['f_nearest_remainder']
f_absolute = HELPERS['f_absolute']
f_smaller = HELPERS['f_smaller']
f_larger = HELPERS['f_larger']
f_largest_multiple = HELPERS['f_largest_multiple']
f_smallest_multiple = HELPERS['f_smallest_multiple']
f_nearby_fraction = HELPERS['f_nearby_fraction']
f_involves_pi = HELPERS['f_involves_pi']
f_simple_fraction = HELPERS['f_simple_fraction']
f_version_at_least = HELPERS['f_version_at_least']
f_power_of_two = HELPERS['f_power_of_two']
f_circumference = HELPERS['f_circumference']
f_uses_index = HELPERS['f_uses_index']
f_uses_home_switch = HELPERS['f_uses_home_switch']
f_uses_limit_switch = HELPERS['f_uses_limit_switch']
f_uses_hard_stop = HELPERS['f_uses_hard_stop']
f_sets_current_position = HELPERS['f_sets_current_position']
f_needs_held_switch = HELPERS['f_needs_held_switch']
f_searches_negative = HELPERS['f_searches_negative']
f_approaches_negative = HELPERS['f_approaches_negative']
f_is_makers_own = HELPERS['f_is_makers_own']
f_is_reserved = HELPERS['f_is_reserved']
f_is_withdrawn = HELPERS['f_is_withdrawn']


def d_axis__fall_acceleration_by_shaft(v_axis):
    if '=fall_acceleration_by_shaft' in v_axis:
        return v_axis['=fall_acceleration_by_shaft']
    v_machine = v_axis["@machine"]
    t1 = d_axis__gravity_torque(v_axis)
    t2 = d_axis__shaft_inertia(v_axis)
    t3 = d_axis__load_inertia_at_motor(v_axis)
    t4 = None if t2 is None or t3 is None else t2 + t3
    t5 = None if t1 is None or t4 is None else div(t1, t4)
    t6 = d_axis__units_per_motor_rev(v_axis)
    t7 = None if t5 is None or t6 is None else t5 * t6
    v_axis['=fall_acceleration_by_shaft'] = t7
    return t7

def d_axis__fall_acceleration(v_axis):
    if '=fall_acceleration' in v_axis:
        return v_axis['=fall_acceleration']
    v_machine = v_axis["@machine"]
    t1 = d_axis__has_driving_shaft(v_axis)
    if t1 is None:
        t2 = None
    elif t1:
        t3 = d_axis__fall_acceleration_by_shaft(v_axis)
        t2 = t3
    else:
        t4 = v_axis.get('motion')
        t5 = None if t4 is None else t4 == 'linear'
        if t5 is None:
            t6 = None
        elif t5:
            t7 = d_axis__gravity_force(v_axis)
            t8 = v_axis.get('mechanics.load_mass')
            t9 = None if t7 is None or t8 is None else div(t7, t8)
            t6 = t9
        else:
            t10 = d_axis__fall_acceleration_by_shaft(v_axis)
            t6 = t10
        t2 = t6
    v_axis['=fall_acceleration'] = t2
    return t2

def d_axis__sag_acceleration(v_axis):
    if '=sag_acceleration' in v_axis:
        return v_axis['=sag_acceleration']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('motion')
    t2 = None if t1 is None else t1 == 'linear'
    if t2 is None:
        t3 = None
    elif t2:
        t5 = d_axis__fall_acceleration(v_axis)
        t4 = t5
        if t4 is None and not ('#disputed' in v_axis and disputed(v_axis, ('motion', 'mechanics.final.kind', 'mechanics.inclination', 'mechanics.vertical', 'mechanics.load_mass', 'mechanics.counterbalance', 'mechanics.final.lead', 'mechanics.final.starts', 'mechanics.final.pitch', 'mechanics.final.teeth', 'mechanics.final.helix', 'mechanics.final.module', 'mechanics.final.diameter', 'mechanics.stages', 'mechanics.stages[].motor_turns_per_load_turn', 'mechanics.stages[].load_side_teeth', 'mechanics.stages[].motor_side_teeth', 'mechanics.unbalanced_torque', 'motor.inertia', 'mechanics.transmission_inertia', 'mechanics.load_inertia'))):
            t6 = d_axis__weight_share(v_axis)
            t7 = None if t6 is None else Fraction(196133, 20) * t6
            t4 = t7
        t3 = t4
    else:
        t8 = d_axis__fall_acceleration(v_axis)
        t3 = t8
    v_axis['=sag_acceleration'] = t3
    return t3

def d_axis__speed_when_caught(v_axis):
    if '=speed_when_caught' in v_axis:
        return v_axis['=speed_when_caught']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.max_velocity')
    t2 = d_axis__fall_acceleration(v_axis)
    t3 = v_axis.get('motor.brake.apply_time')
    t4 = None if t2 is None or t3 is None else t2 * t3
    t5 = None if t1 is None or t4 is None else t1 + t4
    v_axis['=speed_when_caught'] = t5
    return t5

def d_axis__brake_deceleration_by_shaft(v_axis):
    if '=brake_deceleration_by_shaft' in v_axis:
        return v_axis['=brake_deceleration_by_shaft']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('motor.brake.holding_torque')
    t2 = d_axis__shaft_inertia(v_axis)
    t3 = d_axis__load_inertia_at_motor(v_axis)
    t4 = None if t2 is None or t3 is None else t2 + t3
    t5 = None if t1 is None or t4 is None else div(t1, t4)
    t6 = d_axis__units_per_motor_rev(v_axis)
    t7 = None if t5 is None or t6 is None else t5 * t6
    v_axis['=brake_deceleration_by_shaft'] = t7
    return t7

def d_axis__level_brake_deceleration(v_axis):
    if '=level_brake_deceleration' in v_axis:
        return v_axis['=level_brake_deceleration']
    v_machine = v_axis["@machine"]
    t1 = d_axis__has_driving_shaft(v_axis)
    if t1 is None:
        t2 = None
    elif t1:
        t3 = d_axis__brake_deceleration_by_shaft(v_axis)
        t2 = t3
    else:
        t4 = v_axis.get('motion')
        t5 = None if t4 is None else t4 == 'linear'
        if t5 is None:
            t6 = None
        elif t5:
            t7 = v_axis.get('motor.brake.holding_force')
            t8 = v_axis.get('mechanics.load_mass')
            t9 = None if t7 is None or t8 is None else div(t7, t8)
            t6 = t9
        else:
            t10 = d_axis__brake_deceleration_by_shaft(v_axis)
            t6 = t10
        t2 = t6
    v_axis['=level_brake_deceleration'] = t2
    return t2

def d_axis__brake_deceleration(v_axis):
    if '=brake_deceleration' in v_axis:
        return v_axis['=brake_deceleration']
    v_machine = v_axis["@machine"]
    t1 = d_axis__level_brake_deceleration(v_axis)
    t2 = d_axis__fall_acceleration(v_axis)
    t3 = None if t1 is None or t2 is None else t1 - t2
    v_axis['=brake_deceleration'] = t3
    return t3

def d_axis__brake_outdoes_gravity(v_axis):
    if '=brake_outdoes_gravity' in v_axis:
        return v_axis['=brake_outdoes_gravity']
    v_machine = v_axis["@machine"]
    t1 = d_axis__has_driving_shaft(v_axis)
    if t1 is None:
        t2 = None
    elif t1:
        t3 = v_axis.get('motor.brake.holding_torque')
        t4 = d_axis__gravity_torque(v_axis)
        t5 = None if t3 is None or t4 is None else t3 > t4
        t2 = t5
    else:
        t6 = v_axis.get('motor.brake.holding_force')
        t7 = d_axis__gravity_force(v_axis)
        t8 = None if t6 is None or t7 is None else t6 > t7
        t2 = t8
    v_axis['=brake_outdoes_gravity'] = t2
    return t2

def d_axis__friction_deceleration_by_shaft(v_axis):
    if '=friction_deceleration_by_shaft' in v_axis:
        return v_axis['=friction_deceleration_by_shaft']
    v_machine = v_axis["@machine"]
    t1 = d_axis__friction_at_motor(v_axis)
    t2 = d_axis__shaft_inertia(v_axis)
    t3 = d_axis__load_inertia_at_motor(v_axis)
    t4 = None if t2 is None or t3 is None else t2 + t3
    t5 = None if t1 is None or t4 is None else div(t1, t4)
    t6 = d_axis__units_per_motor_rev(v_axis)
    t7 = None if t5 is None or t6 is None else t5 * t6
    v_axis['=friction_deceleration_by_shaft'] = t7
    return t7

def d_axis__friction_deceleration(v_axis):
    if '=friction_deceleration' in v_axis:
        return v_axis['=friction_deceleration']
    v_machine = v_axis["@machine"]
    t1 = d_axis__has_driving_shaft(v_axis)
    if t1 is None:
        t2 = None
    elif t1:
        t3 = d_axis__friction_deceleration_by_shaft(v_axis)
        t2 = t3
    else:
        t4 = v_axis.get('motion')
        t5 = None if t4 is None else t4 == 'linear'
        if t5 is None:
            t6 = None
        elif t5:
            t7 = v_axis.get('mechanics.friction_force')
            t8 = v_axis.get('mechanics.load_mass')
            t9 = None if t7 is None or t8 is None else div(t7, t8)
            t6 = t9
        else:
            t10 = d_axis__friction_deceleration_by_shaft(v_axis)
            t6 = t10
        t2 = t6
    v_axis['=friction_deceleration'] = t2
    return t2

def d_axis__run_without_torque(v_axis):
    if '=run_without_torque' in v_axis:
        return v_axis['=run_without_torque']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('motor.brake')
    t2 = None if t1 is None else t1 is NONE
    if t2 is None:
        t3 = None
    elif t2:
        t4 = v_axis.get('controller.max_velocity')
        t5 = None if t4 is None else raised(t4, 2)
        t6 = d_axis__friction_deceleration(v_axis)
        t7 = None if t6 is None else 2 * t6
        t8 = None if t5 is None or t7 is None else div(t5, t7)
        t3 = t8
    else:
        t9 = v_axis.get('controller.max_velocity')
        t10 = d_axis__level_brake_deceleration(v_axis)
        t11 = v_axis.get('motor.brake.apply_time')
        t12 = None if t9 is None or t10 is None or t11 is None else f_stopping_distance(t9, t10, t11)
        t3 = t12
    v_axis['=run_without_torque'] = t3
    return t3

def d_axis__power_cut_at_stop(v_axis):
    if '=power_cut_at_stop' in v_axis:
        return v_axis['=power_cut_at_stop']
    v_machine = v_axis["@machine"]
    t2 = v_axis.get('drive.stop_reaction.option')
    t3 = None if t2 is None else t2 == 'disable_at_once'
    t1 = t3
    if t1 is None and not ('#disputed' in v_axis and disputed(v_axis, ('drive.stop_reaction.option',))):
        t1 = False
    v_axis['=power_cut_at_stop'] = t1
    return t1

def d_axis__drop_at_power_off(v_axis):
    if '=drop_at_power_off' in v_axis:
        return v_axis['=drop_at_power_off']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.max_velocity')
    t2 = d_axis__speed_when_caught(v_axis)
    t3 = None if t1 is None or t2 is None else t1 + t2
    t4 = None if t3 is None else div(t3, 2)
    t5 = v_axis.get('motor.brake.apply_time')
    t6 = None if t4 is None or t5 is None else t4 * t5
    t7 = d_axis__speed_when_caught(v_axis)
    t8 = None if t7 is None else raised(t7, 2)
    t9 = d_axis__brake_deceleration(v_axis)
    t10 = None if t9 is None else 2 * t9
    t11 = None if t8 is None or t10 is None else div(t8, t10)
    t12 = None if t6 is None or t11 is None else t6 + t11
    v_axis['=drop_at_power_off'] = t12
    return t12

def d_axis_mechanics_stages__ratio(v_stage):
    if '=ratio' in v_stage:
        return v_stage['=ratio']
    t2 = v_stage.get('motor_turns_per_load_turn')
    t1 = t2
    if t1 is None and not ('#disputed' in v_stage and disputed(v_stage, ('motor_turns_per_load_turn',))):
        t3 = v_stage.get('load_side_teeth')
        t4 = v_stage.get('motor_side_teeth')
        t5 = None if t3 is None or t4 is None else div(t3, t4)
        t1 = t5
    v_stage['=ratio'] = t1
    return t1

def d_axis_mechanics_stages__likely_ratio(v_stage):
    if '=likely_ratio' in v_stage:
        return v_stage['=likely_ratio']
    t2 = v_stage.get('motor_turns_per_load_turn')
    t3 = v_stage.get('motor_turns_per_load_turn')
    t4 = None if t3 is None else v_stage.get('motor_turns_per_load_turn#decimals', 0)
    t5 = None if t2 is None or t4 is None else f_nearby_fraction(t2, t4)
    t1 = t5
    if t1 is None and not ('#disputed' in v_stage and disputed(v_stage, ('motor_turns_per_load_turn',))):
        t6 = d_axis_mechanics_stages__ratio(v_stage)
        t1 = t6
    v_stage['=likely_ratio'] = t1
    return t1

def d_axis_mechanics_stages__ratio_by_teeth(v_stage):
    if '=ratio_by_teeth' in v_stage:
        return v_stage['=ratio_by_teeth']
    t2 = v_stage.get('load_side_teeth')
    t3 = v_stage.get('motor_side_teeth')
    t4 = None if t2 is None or t3 is None else div(t2, t3)
    t1 = t4
    if t1 is None and not ('#disputed' in v_stage and disputed(v_stage, ('load_side_teeth', 'motor_side_teeth'))):
        t5 = d_axis_mechanics_stages__likely_ratio(v_stage)
        t1 = t5
    v_stage['=ratio_by_teeth'] = t1
    return t1

def d_axis__short_stage_is_known(v_axis):
    if '=short_stage_is_known' in v_axis:
        return v_axis['=short_stage_is_known']
    v_machine = v_axis["@machine"]
    t2 = v_axis.get('mechanics.stages')
    t3 = v_axis.get('mechanics.stages#partial')
    if t2 is None or t3:
        t4 = None
    else:
        t5 = True
        t4 = 0
        for v_stage in t2:
            t6 = d_axis_mechanics_stages__ratio(v_stage)
            t7 = d_axis_mechanics_stages__likely_ratio(v_stage)
            t8 = None if t6 is None or t7 is None else eq(t6, t7)
            t9 = None if t8 is None else not t8
            if t9 is False:
                continue
            if t9 is None:
                t5 = False
                break
            t4 += 1
        t4 = t4 if t5 else None
    t10 = None if t4 is None else eq(t4, 1)
    t1 = t10
    if t1 is not False:
        t12 = v_axis.get('mechanics.stages')
        t13 = v_axis.get('mechanics.stages#partial')
        if t12 is None or t13:
            t14 = None
        else:
            t15 = True
            t14 = 0
            for v_stage in t12:
                t17 = d_axis_mechanics_stages__ratio(v_stage)
                t18 = d_axis_mechanics_stages__likely_ratio(v_stage)
                t19 = None if t17 is None or t18 is None else eq(t17, t18)
                t20 = None if t19 is None else not t19
                t16 = t20
                if t16 is not False:
                    t22 = v_stage.get('load_side_teeth')
                    t23 = v_stage.get('motor_side_teeth')
                    t24 = None if t22 is None or t23 is None else div(t22, t23)
                    t25 = d_axis_mechanics_stages__likely_ratio(v_stage)
                    t26 = None if t24 is None or t25 is None else eq(t24, t25)
                    t21 = t26
                    if t21 is None and not ('#disputed' in v_stage and disputed(v_stage, ('load_side_teeth', 'motor_side_teeth', 'motor_turns_per_load_turn'))):
                        t21 = False
                    if t16 is None:
                        t16 = False if t21 is False else None
                    else:
                        t16 = t21
                if t16 is False:
                    continue
                if t16 is None:
                    t15 = False
                    break
                t14 += 1
            t14 = t14 if t15 else None
        t27 = None if t14 is None else eq(t14, 1)
        t11 = t27
        if t11 is not True:
            t29 = v_axis.get('drive.gear_ratio.motor_turns')
            t30 = v_axis.get('drive.gear_ratio.shaft_turns')
            t31 = None if t29 is None or t30 is None else div(t29, t30)
            t32 = d_axis__likely_gear_ratio(v_axis)
            t33 = None if t31 is None or t32 is None else eq(t31, t32)
            t28 = t33
            if t28 is None and not ('#disputed' in v_axis and disputed(v_axis, ('drive.gear_ratio.motor_turns', 'drive.gear_ratio.shaft_turns', 'mechanics.stages', 'mechanics.stages[].motor_turns_per_load_turn', 'mechanics.stages[].load_side_teeth', 'mechanics.stages[].motor_side_teeth'))):
                t28 = False
            if t11 is None:
                t11 = True if t28 is True else None
            else:
                t11 = t28
        if t1 is None:
            t1 = False if t11 is False else None
        else:
            t1 = t11
    v_axis['=short_stage_is_known'] = t1
    return t1

def d_axis__stages_agree(v_axis):
    if '=stages_agree' in v_axis:
        return v_axis['=stages_agree']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('mechanics.stages')
    t2 = v_axis.get('mechanics.stages#partial')
    if t1 is None:
        t3 = None
    else:
        t3 = None if t2 else True
        for v_stage in t1:
            t4 = d_axis_mechanics_stages__ratio_by_teeth(v_stage)
            t5 = d_axis_mechanics_stages__likely_ratio(v_stage)
            t6 = None if t4 is None or t5 is None else eq(t4, t5)
            if t6 is False:
                t3 = False
                break
            if t6 is None:
                t3 = None
    v_axis['=stages_agree'] = t3
    return t3

def d_axis__plate_agrees(v_axis):
    if '=plate_agrees' in v_axis:
        return v_axis['=plate_agrees']
    v_machine = v_axis["@machine"]
    t2 = v_axis.get('mechanics.stated_ratio')
    t1 = t2
    if t1 is None and not ('#disputed' in v_axis and disputed(v_axis, ('mechanics.stated_ratio',))):
        t3 = d_axis__gear_ratio(v_axis)
        t1 = t3
    t4 = d_axis__gear_ratio(v_axis)
    t5 = v_axis.get('@s:plate_rounding', Fraction(1, 100))
    t6 = None if t4 is None or t5 is None else t4 * t5
    t7 = d_axis__gear_ratio(v_axis)
    t8 = None if t1 is None or t6 is None or t7 is None else within(t1, t6, t7)
    v_axis['=plate_agrees'] = t8
    return t8

def d_axis__gear_ratio(v_axis):
    if '=gear_ratio' in v_axis:
        return v_axis['=gear_ratio']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('mechanics.stages')
    t2 = v_axis.get('mechanics.stages#partial')
    if t1 is None or t2:
        t3 = None
    else:
        t4 = True
        t3 = 1
        for v_stage in t1:
            t5 = d_axis_mechanics_stages__ratio(v_stage)
            if t5 is None:
                t4 = False
                break
            t3 = capped(t3 * t5)
            if t3 is None:
                t4 = False
                break
        t3 = t3 if t4 else None
    v_axis['=gear_ratio'] = t3
    return t3

def d_axis__likely_gear_ratio(v_axis):
    if '=likely_gear_ratio' in v_axis:
        return v_axis['=likely_gear_ratio']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('mechanics.stages')
    t2 = v_axis.get('mechanics.stages#partial')
    if t1 is None or t2:
        t3 = None
    else:
        t4 = True
        t3 = 1
        for v_stage in t1:
            t5 = d_axis_mechanics_stages__likely_ratio(v_stage)
            if t5 is None:
                t4 = False
                break
            t3 = capped(t3 * t5)
            if t3 is None:
                t4 = False
                break
        t3 = t3 if t4 else None
    v_axis['=likely_gear_ratio'] = t3
    return t3

def d_axis__stated_encoder_ratio(v_axis):
    if '=stated_encoder_ratio' in v_axis:
        return v_axis['=stated_encoder_ratio']
    v_machine = v_axis["@machine"]
    t2 = v_axis.get('encoder.turns_per_driving_shaft_turn')
    t1 = t2
    if t1 is None and not ('#disputed' in v_axis and disputed(v_axis, ('encoder.turns_per_driving_shaft_turn',))):
        t1 = 1
    v_axis['=stated_encoder_ratio'] = t1
    return t1

def d_axis__likely_encoder_ratio(v_axis):
    if '=likely_encoder_ratio' in v_axis:
        return v_axis['=likely_encoder_ratio']
    v_machine = v_axis["@machine"]
    t2 = v_axis.get('encoder.turns_per_driving_shaft_turn')
    t3 = v_axis.get('encoder.turns_per_driving_shaft_turn')
    t4 = None if t3 is None else v_axis.get('encoder.turns_per_driving_shaft_turn#decimals', 0)
    t5 = None if t2 is None or t4 is None else f_nearby_fraction(t2, t4)
    t1 = t5
    if t1 is None and not ('#disputed' in v_axis and disputed(v_axis, ('encoder.turns_per_driving_shaft_turn',))):
        t1 = 1
    v_axis['=likely_encoder_ratio'] = t1
    return t1

def d_axis__ratios_are_settled(v_axis):
    if '=ratios_are_settled' in v_axis:
        return v_axis['=ratios_are_settled']
    v_machine = v_axis["@machine"]
    t2 = d_axis__encoder_is_linear(v_axis)
    t1 = t2
    if t1 is not True:
        t7 = d_axis__gear_ratio(v_axis)
        t8 = d_axis__likely_gear_ratio(v_axis)
        t9 = None if t7 is None or t8 is None else eq(t7, t8)
        t6 = t9
        if t6 is not False:
            t10 = d_axis__stated_encoder_ratio(v_axis)
            t11 = d_axis__likely_encoder_ratio(v_axis)
            t12 = None if t10 is None or t11 is None else eq(t10, t11)
            if t6 is None:
                t6 = False if t12 is False else None
            else:
                t6 = t12
        t5 = t6
        if t5 is not False:
            t13 = d_axis__stages_agree(v_axis)
            if t5 is None:
                t5 = False if t13 is False else None
            else:
                t5 = t13
        t4 = t5
        if t4 is not False:
            t14 = d_axis__lead_agrees(v_axis)
            if t4 is None:
                t4 = False if t14 is False else None
            else:
                t4 = t14
        t3 = t4
        if t3 is not False:
            t15 = d_axis__plate_agrees(v_axis)
            if t3 is None:
                t3 = False if t15 is False else None
            else:
                t3 = t15
        if t1 is None:
            t1 = True if t3 is True else None
        else:
            t1 = t3
    v_axis['=ratios_are_settled'] = t1
    return t1

def d_axis__has_driving_shaft(v_axis):
    if '=has_driving_shaft' in v_axis:
        return v_axis['=has_driving_shaft']
    v_machine = v_axis["@machine"]
    t2 = v_axis.get('motion')
    t3 = None if t2 is None else t2 == 'rotary'
    t1 = t3
    if t1 is not True:
        t6 = v_axis.get('mechanics.final.kind')
        t7 = None if t6 is None else t6 == 'direct'
        t8 = None if t7 is None else not t7
        t5 = t8
        if t5 is not False:
            t9 = v_axis.get('mechanics.final.kind')
            t10 = None if t9 is None else t9 == 'rotary_table'
            t11 = None if t10 is None else not t10
            if t5 is None:
                t5 = False if t11 is False else None
            else:
                t5 = t11
        t4 = t5
        if t4 is None and not ('#disputed' in v_axis and disputed(v_axis, ('mechanics.final.kind',))):
            t4 = True
        if t1 is None:
            t1 = True if t4 is True else None
        else:
            t1 = t4
    v_axis['=has_driving_shaft'] = t1
    return t1

def d_axis__screw_feed(v_axis):
    if '=screw_feed' in v_axis:
        return v_axis['=screw_feed']
    v_machine = v_axis["@machine"]
    t2 = v_axis.get('mechanics.final.lead')
    t1 = t2
    if t1 is None and not ('#disputed' in v_axis and disputed(v_axis, ('mechanics.final.lead',))):
        t3 = v_axis.get('mechanics.final.starts')
        t4 = v_axis.get('mechanics.final.pitch')
        t5 = None if t3 is None or t4 is None else t3 * t4
        t1 = t5
    t6 = None if t1 is None else div(t1, 1)
    v_axis['=screw_feed'] = t6
    return t6

def d_axis__lead_by_pitch(v_axis):
    if '=lead_by_pitch' in v_axis:
        return v_axis['=lead_by_pitch']
    v_machine = v_axis["@machine"]
    t2 = v_axis.get('mechanics.final.starts')
    t3 = v_axis.get('mechanics.final.pitch')
    t4 = None if t2 is None or t3 is None else t2 * t3
    t1 = t4
    if t1 is None and not ('#disputed' in v_axis and disputed(v_axis, ('mechanics.final.starts', 'mechanics.final.pitch'))):
        t5 = v_axis.get('mechanics.final.lead')
        t1 = t5
    v_axis['=lead_by_pitch'] = t1
    return t1

def d_axis__lead_agrees(v_axis):
    if '=lead_agrees' in v_axis:
        return v_axis['=lead_agrees']
    v_machine = v_axis["@machine"]
    t2 = v_axis.get('mechanics.final.kind')
    t3 = None if t2 is None else t2 == 'screw'
    t4 = None if t3 is None else not t3
    t1 = t4
    if t1 is not True:
        t5 = d_axis__lead_by_pitch(v_axis)
        t6 = None if t5 is None else div(t5, 1)
        t7 = d_axis__screw_feed(v_axis)
        t8 = None if t6 is None or t7 is None else eq(t6, t7)
        if t1 is None:
            t1 = True if t8 is True else None
        else:
            t1 = t8
    v_axis['=lead_agrees'] = t1
    return t1

def d_axis__toothed_feed(v_axis):
    if '=toothed_feed' in v_axis:
        return v_axis['=toothed_feed']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('mechanics.final.teeth')
    t2 = v_axis.get('mechanics.final.pitch')
    t3 = None if t1 is None or t2 is None else t1 * t2
    t4 = None if t3 is None else div(t3, 1)
    v_axis['=toothed_feed'] = t4
    return t4

def d_axis__rack_feed(v_axis):
    if '=rack_feed' in v_axis:
        return v_axis['=rack_feed']
    v_machine = v_axis["@machine"]
    t2 = d_axis__toothed_feed(v_axis)
    t1 = t2
    if t1 is None and not ('#disputed' in v_axis and disputed(v_axis, ('mechanics.final.teeth', 'mechanics.final.pitch'))):
        t3 = v_axis.get('mechanics.final.helix')
        t4 = None if t3 is None else t3 == 'straight'
        if t4 is None:
            t5 = None
        elif t4:
            t6 = v_axis.get('mechanics.final.teeth')
            t7 = v_axis.get('mechanics.final.module')
            t8 = None if t6 is None or t7 is None else t6 * t7
            t9 = None if t8 is None else f_circumference(t8)
            t5 = t9
        else:
            t10 = v_axis.get('mechanics.final.teeth')
            t11 = v_axis.get('mechanics.final.module')
            t12 = None if t10 is None or t11 is None else t10 * t11
            t13 = None if t12 is None else t12 * 10
            t14 = None if t13 is None else div(t13, 3)
            t5 = t14
        t15 = None if t5 is None else div(t5, 1)
        t1 = t15
    v_axis['=rack_feed'] = t1
    return t1

def d_axis__feed_constant(v_axis):
    if '=feed_constant' in v_axis:
        return v_axis['=feed_constant']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('mechanics.final.kind')
    t2 = None if t1 is None else t1 == 'screw'
    if t2 is None:
        t3 = None
    elif t2:
        t4 = d_axis__screw_feed(v_axis)
        t3 = t4
    else:
        t5 = v_axis.get('mechanics.final.kind')
        t6 = None if t5 is None else t5 == 'belt'
        if t6 is None:
            t7 = None
        elif t6:
            t8 = d_axis__toothed_feed(v_axis)
            t7 = t8
        else:
            t9 = v_axis.get('mechanics.final.kind')
            t10 = None if t9 is None else t9 == 'rack'
            if t10 is None:
                t11 = None
            elif t10:
                t12 = d_axis__rack_feed(v_axis)
                t11 = t12
            else:
                t13 = v_axis.get('mechanics.final.kind')
                t14 = None if t13 is None else t13 == 'roller'
                if t14 is None:
                    t15 = None
                elif t14:
                    t16 = v_axis.get('mechanics.final.diameter')
                    t17 = None if t16 is None else f_circumference(t16)
                    t18 = None if t17 is None else div(t17, 1)
                    t15 = t18
                else:
                    t19 = v_axis.get('motion')
                    t20 = None if t19 is None else t19 == 'rotary'
                    if t20 is None:
                        t21 = None
                    elif t20:
                        t22 = div(1, 1)
                        t21 = t22
                    else:
                        t23 = d_axis__screw_feed(v_axis)
                        t21 = t23
                    t15 = t21
                t11 = t15
            t7 = t11
        t3 = t7
    v_axis['=feed_constant'] = t3
    return t3

def d_axis__units_per_motor_rev(v_axis):
    if '=units_per_motor_rev' in v_axis:
        return v_axis['=units_per_motor_rev']
    v_machine = v_axis["@machine"]
    t1 = d_axis__feed_constant(v_axis)
    t2 = d_axis__gear_ratio(v_axis)
    t3 = None if t1 is None or t2 is None else div(t1, t2)
    v_axis['=units_per_motor_rev'] = t3
    return t3

def d_axis__encoder_is_linear(v_axis):
    if '=encoder_is_linear' in v_axis:
        return v_axis['=encoder_is_linear']
    v_machine = v_axis["@machine"]
    t2 = v_axis.get('encoder.form')
    t3 = None if t2 is None else t2 == 'linear'
    t1 = t3
    if t1 is None and not ('#disputed' in v_axis and disputed(v_axis, ('encoder.form',))):
        t1 = False
    v_axis['=encoder_is_linear'] = t1
    return t1

def d_axis__encoder_turns_per_driving_shaft_turn(v_axis):
    if '=encoder_turns_per_driving_shaft_turn' in v_axis:
        return v_axis['=encoder_turns_per_driving_shaft_turn']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('encoder.mounted_on')
    t2 = None if t1 is None else t1 == 'motor'
    if t2 is None:
        t3 = None
    elif t2:
        t4 = d_axis__gear_ratio(v_axis)
        t3 = t4
    else:
        t5 = v_axis.get('encoder.turns_per_driving_shaft_turn')
        t3 = t5
    v_axis['=encoder_turns_per_driving_shaft_turn'] = t3
    return t3

def d_axis__units_per_encoder_rev(v_axis):
    if '=units_per_encoder_rev' in v_axis:
        return v_axis['=units_per_encoder_rev']
    v_machine = v_axis["@machine"]
    t1 = d_axis__feed_constant(v_axis)
    t2 = d_axis__encoder_turns_per_driving_shaft_turn(v_axis)
    t3 = None if t1 is None or t2 is None else div(t1, t2)
    v_axis['=units_per_encoder_rev'] = t3
    return t3

def d_axis__encoder_counts_per_revolution(v_axis):
    if '=encoder_counts_per_revolution' in v_axis:
        return v_axis['=encoder_counts_per_revolution']
    v_machine = v_axis["@machine"]
    t2 = v_axis.get('encoder.counts_per_revolution')
    t1 = t2
    if t1 is None and not ('#disputed' in v_axis and disputed(v_axis, ('encoder.counts_per_revolution',))):
        t3 = v_axis.get('encoder.lines_per_revolution')
        t4 = v_axis.get('encoder.evaluation')
        t5 = None if t3 is None or t4 is None else t3 * t4
        t6 = None if t5 is None else t5 * 1
        t1 = t6
    v_axis['=encoder_counts_per_revolution'] = t1
    return t1

def d_axis__counts_per_unit_by_turns(v_axis):
    if '=counts_per_unit_by_turns' in v_axis:
        return v_axis['=counts_per_unit_by_turns']
    v_machine = v_axis["@machine"]
    t1 = d_axis__encoder_counts_per_revolution(v_axis)
    t2 = d_axis__units_per_encoder_rev(v_axis)
    t3 = None if t1 is None or t2 is None else div(t1, t2)
    v_axis['=counts_per_unit_by_turns'] = t3
    return t3

def d_axis__counts_per_unit(v_axis):
    if '=counts_per_unit' in v_axis:
        return v_axis['=counts_per_unit']
    v_machine = v_axis["@machine"]
    t1 = d_axis__encoder_is_linear(v_axis)
    if t1 is None:
        t2 = None
    elif t1:
        t3 = v_axis.get('motion')
        t4 = None if t3 is None else t3 == 'linear'
        if t4 is None:
            t5 = None
        elif t4:
            t6 = v_axis.get('encoder.measuring_step')
            t7 = None if t6 is None else div(1, t6)
            t5 = t7
        else:
            t8 = d_axis__counts_per_unit_by_turns(v_axis)
            t5 = t8
        t2 = t5
    else:
        t10 = d_axis__counts_per_unit_by_turns(v_axis)
        t9 = t10
        if t9 is None and not ('#disputed' in v_axis and disputed(v_axis, ('encoder.counts_per_revolution', 'encoder.lines_per_revolution', 'encoder.evaluation', 'mechanics.final.kind', 'mechanics.final.lead', 'mechanics.final.starts', 'mechanics.final.pitch', 'mechanics.final.teeth', 'mechanics.final.helix', 'mechanics.final.module', 'mechanics.final.diameter', 'motion', 'encoder.mounted_on', 'mechanics.stages', 'mechanics.stages[].motor_turns_per_load_turn', 'mechanics.stages[].load_side_teeth', 'mechanics.stages[].motor_side_teeth', 'encoder.turns_per_driving_shaft_turn'))):
            t11 = v_axis.get('motion')
            t12 = None if t11 is None else t11 == 'linear'
            if t12 is None:
                t13 = None
            elif t12:
                t14 = v_axis.get('encoder.measuring_step')
                t15 = None if t14 is None else div(1, t14)
                t13 = t15
            else:
                t16 = d_axis__counts_per_unit_by_turns(v_axis)
                t13 = t16
            t9 = t13
        t2 = t9
    v_axis['=counts_per_unit'] = t2
    return t2

def d_axis__absolute_turns(v_axis):
    if '=absolute_turns' in v_axis:
        return v_axis['=absolute_turns']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('encoder.kind')
    t2 = None if t1 is None else t1 == 'absolute_singleturn'
    if t2 is None:
        t3 = None
    elif t2:
        t3 = 1
    else:
        t4 = v_axis.get('encoder.distinguishable_revolutions')
        t3 = t4
    v_axis['=absolute_turns'] = t3
    return t3

def d_axis__absolute_range(v_axis):
    if '=absolute_range' in v_axis:
        return v_axis['=absolute_range']
    v_machine = v_axis["@machine"]
    t1 = d_axis__absolute_turns(v_axis)
    t2 = d_axis__units_per_encoder_rev(v_axis)
    t3 = None if t1 is None or t2 is None else t1 * t2
    v_axis['=absolute_range'] = t3
    return t3

def d_axis__turns_that_close_the_cycle(v_axis):
    if '=turns_that_close_the_cycle' in v_axis:
        return v_axis['=turns_that_close_the_cycle']
    v_machine = v_axis["@machine"]
    t1 = d_axis__units_per_encoder_rev(v_axis)
    t2 = None if t1 is None else t1 * 1
    t3 = d_axis__cycle(v_axis)
    t4 = None if t2 is None or t3 is None else div(t2, t3)
    t5 = None if t4 is None else f_denominator(t4)
    t6 = None if t5 is None else t5 * 1
    v_axis['=turns_that_close_the_cycle'] = t6
    return t6

def d_axis__cycle(v_axis):
    if '=cycle' in v_axis:
        return v_axis['=cycle']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('motion')
    t2 = None if t1 is None else t1 == 'rotary'
    if t2 is None:
        t3 = None
    elif t2:
        t5 = v_axis.get('controller.cycle')
        t6 = None if t5 is None else f_involves_pi(t5)
        t4 = t6
        if t4 is not False:
            t7 = v_axis.get('controller.cycle')
            t8 = None if t7 is None else div(t7, 1)
            t9 = v_axis.get('@s:rounding_of_pi', Fraction(1, 1000000))
            t10 = None if t8 is None or t9 is None else f_simple_fraction(t8, t9)
            t11 = None if t10 is None else f_denominator(t10)
            t12 = None if t11 is None else t11 <= 100
            if t4 is None:
                t4 = False if t12 is False else None
            else:
                t4 = t12
        if t4 is None:
            t13 = None
        elif t4:
            t14 = v_axis.get('controller.cycle')
            t15 = None if t14 is None else div(t14, 1)
            t16 = v_axis.get('@s:rounding_of_pi', Fraction(1, 1000000))
            t17 = None if t15 is None or t16 is None else f_simple_fraction(t15, t16)
            t18 = None if t17 is None else t17 * 1
            t13 = t18
        else:
            t19 = v_axis.get('controller.cycle')
            t13 = t19
        t3 = t13
    else:
        t20 = v_axis.get('controller.cycle')
        t3 = t20
    v_axis['=cycle'] = t3
    return t3

def d_axis__cycle_never_closes(v_axis):
    if '=cycle_never_closes' in v_axis:
        return v_axis['=cycle_never_closes']
    v_machine = v_axis["@machine"]
    t1 = d_axis__units_per_encoder_rev(v_axis)
    t2 = None if t1 is None else f_involves_pi(t1)
    t3 = d_axis__cycle(v_axis)
    t4 = None if t3 is None else f_involves_pi(t3)
    t5 = None if t2 is None or t4 is None else t2 == t4
    t6 = None if t5 is None else not t5
    v_axis['=cycle_never_closes'] = t6
    return t6

def d_axis__cycle_counts(v_axis):
    if '=cycle_counts' in v_axis:
        return v_axis['=cycle_counts']
    v_machine = v_axis["@machine"]
    t1 = d_axis__counts_per_unit(v_axis)
    t2 = d_axis__cycle(v_axis)
    t3 = None if t1 is None or t2 is None else t1 * t2
    v_axis['=cycle_counts'] = t3
    return t3

def d_axis__position_matters(v_axis):
    if '=position_matters' in v_axis:
        return v_axis['=position_matters']
    v_machine = v_axis["@machine"]
    t2 = v_axis.get('controller.position_matters')
    t1 = t2
    if t1 is None and not ('#disputed' in v_axis and disputed(v_axis, ('controller.position_matters',))):
        t1 = True
    v_axis['=position_matters'] = t1
    return t1

def d_axis__relies_on_turn_counter(v_axis):
    if '=relies_on_turn_counter' in v_axis:
        return v_axis['=relies_on_turn_counter']
    v_machine = v_axis["@machine"]
    t4 = d_axis__position_matters(v_axis)
    t3 = t4
    if t3 is not False:
        t5 = v_axis.get('encoder.kind')
        t6 = None if t5 is None else t5 == 'absolute_multiturn'
        if t3 is None:
            t3 = False if t6 is False else None
        else:
            t3 = t6
    t2 = t3
    if t2 is not False:
        t7 = v_axis.get('drive.encoder_use')
        t8 = None if t7 is None else t7 == 'absolute'
        if t2 is None:
            t2 = False if t8 is False else None
        else:
            t2 = t8
    t1 = t2
    if t1 is not False:
        t9 = d_axis__encoder_is_linear(v_axis)
        t10 = None if t9 is None else not t9
        if t1 is None:
            t1 = False if t10 is False else None
        else:
            t1 = t10
    v_axis['=relies_on_turn_counter'] = t1
    return t1

def d_axis__wraps_are_retained(v_axis):
    if '=wraps_are_retained' in v_axis:
        return v_axis['=wraps_are_retained']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.type')
    t2 = None if t1 is None else t1 == 'modulo'
    if t2 is None:
        t3 = None
    elif t2:
        t4 = v_axis.get('controller.wraps_retained')
        t3 = t4
    else:
        t5 = v_axis.get('controller.unfolding')
        t6 = None if t5 is None else t5 == 'tracked'
        t3 = t6
    v_axis['=wraps_are_retained'] = t3
    return t3

def d_axis__counts_rise_with_position(v_axis):
    if '=counts_rise_with_position' in v_axis:
        return v_axis['=counts_rise_with_position']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('encoder.count_direction')
    t2 = None if t1 is None else t1 == 'same'
    t3 = v_axis.get('drive.polarity')
    t4 = None if t3 is None else t3 == 'normal'
    t5 = v_axis.get('controller.polarity')
    t6 = None if t5 is None else t5 == 'normal'
    t7 = None if t4 is None or t6 is None else t4 == t6
    t8 = None if t2 is None or t7 is None else t2 == t7
    v_axis['=counts_rise_with_position'] = t8
    return t8

def d_axis__has_ends(v_axis):
    if '=has_ends' in v_axis:
        return v_axis['=has_ends']
    v_machine = v_axis["@machine"]
    t3 = v_axis.get('mechanics.travel')
    t4 = None if t3 is None else t3 is NONE
    t5 = None if t4 is None else not t4
    t2 = t5
    if t2 is not True:
        t6 = v_axis.get('mechanics.limit_switches')
        t7 = None if t6 is None else t6 is NONE
        t8 = None if t7 is None else not t7
        if t2 is None:
            t2 = True if t8 is True else None
        else:
            t2 = t8
    t1 = t2
    if t1 is not True:
        t9 = v_axis.get('controller.software_limits')
        t10 = None if t9 is None else t9 is NONE
        t11 = None if t10 is None else not t10
        if t1 is None:
            t1 = True if t11 is True else None
        else:
            t1 = t11
    v_axis['=has_ends'] = t1
    return t1

def d_axis__lowest_end(v_axis):
    if '=lowest_end' in v_axis:
        return v_axis['=lowest_end']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('mechanics.travel')
    t2 = None if t1 is None else t1 is NONE
    t3 = None if t2 is None else not t2
    if t3 is None:
        t4 = None
    elif t3:
        t5 = v_axis.get('mechanics.travel.min')
        t4 = t5
    else:
        t6 = v_axis.get('mechanics.limit_switches')
        t7 = None if t6 is None else t6 is NONE
        t8 = None if t7 is None else not t7
        if t8 is None:
            t9 = None
        elif t8:
            t10 = v_axis.get('mechanics.limit_switches.negative')
            t9 = t10
        else:
            t11 = v_axis.get('controller.software_limits.min')
            t9 = t11
        t4 = t9
    v_axis['=lowest_end'] = t4
    return t4

def d_axis__highest_end(v_axis):
    if '=highest_end' in v_axis:
        return v_axis['=highest_end']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('mechanics.travel')
    t2 = None if t1 is None else t1 is NONE
    t3 = None if t2 is None else not t2
    if t3 is None:
        t4 = None
    elif t3:
        t5 = v_axis.get('mechanics.travel.max')
        t4 = t5
    else:
        t6 = v_axis.get('mechanics.limit_switches')
        t7 = None if t6 is None else t6 is NONE
        t8 = None if t7 is None else not t7
        if t8 is None:
            t9 = None
        elif t8:
            t10 = v_axis.get('mechanics.limit_switches.positive')
            t9 = t10
        else:
            t11 = v_axis.get('controller.software_limits.max')
            t9 = t11
        t4 = t9
    v_axis['=highest_end'] = t4
    return t4

def d_axis__travel_span(v_axis):
    if '=travel_span' in v_axis:
        return v_axis['=travel_span']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('mechanics.travel.max')
    t2 = v_axis.get('mechanics.travel.min')
    t3 = None if t1 is None or t2 is None else t1 - t2
    v_axis['=travel_span'] = t3
    return t3

def d_axis__end_span(v_axis):
    if '=end_span' in v_axis:
        return v_axis['=end_span']
    v_machine = v_axis["@machine"]
    t1 = d_axis__highest_end(v_axis)
    t2 = d_axis__lowest_end(v_axis)
    t3 = None if t1 is None or t2 is None else t1 - t2
    v_axis['=end_span'] = t3
    return t3

def d_axis__long_run(v_axis):
    if '=long_run' in v_axis:
        return v_axis['=long_run']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.type')
    t2 = None if t1 is None else t1 == 'modulo'
    if t2 is None:
        t3 = None
    elif t2:
        t4 = v_axis.get('controller.cycle')
        t5 = None if t4 is None else 1000000 * t4
        t3 = t5
    else:
        t6 = d_axis__end_span(v_axis)
        t3 = t6
    v_axis['=long_run'] = t3
    return t3

def d_axis__one_turn_covers_all(v_axis):
    if '=one_turn_covers_all' in v_axis:
        return v_axis['=one_turn_covers_all']
    v_machine = v_axis["@machine"]
    t1 = d_axis__encoder_is_linear(v_axis)
    if t1 is None:
        t2 = None
    elif t1:
        t2 = True
    else:
        t3 = v_axis.get('controller.type')
        t4 = None if t3 is None else t3 == 'modulo'
        if t4 is None:
            t5 = None
        elif t4:
            t6 = d_axis__units_per_encoder_rev(v_axis)
            t7 = None if t6 is None else t6 * 1
            t8 = d_axis__cycle(v_axis)
            t9 = None if t7 is None or t8 is None else div(t7, t8)
            t10 = None if t9 is None else is_whole(t9)
            t5 = t10
        else:
            t11 = d_axis__end_span(v_axis)
            t12 = d_axis__units_per_encoder_rev(v_axis)
            t13 = None if t12 is None else t12 * 1
            t14 = None if t11 is None or t13 is None else t11 < t13
            t5 = t14
        t2 = t5
    v_axis['=one_turn_covers_all'] = t2
    return t2

def d_axis__forgets_position(v_axis):
    if '=forgets_position' in v_axis:
        return v_axis['=forgets_position']
    v_machine = v_axis["@machine"]
    t3 = v_axis.get('encoder.kind')
    t4 = None if t3 is None else t3 == 'incremental'
    t2 = t4
    if t2 is not True:
        t5 = v_axis.get('drive.encoder_use')
        t6 = None if t5 is None else t5 == 'incremental'
        if t2 is None:
            t2 = True if t6 is True else None
        else:
            t2 = t6
    t1 = t2
    if t1 is not True:
        t9 = v_axis.get('encoder.kind')
        t10 = None if t9 is None else t9 == 'absolute_singleturn'
        t8 = t10
        if t8 is not False:
            t11 = d_axis__one_turn_covers_all(v_axis)
            t12 = None if t11 is None else not t11
            if t8 is None:
                t8 = False if t12 is False else None
            else:
                t8 = t12
        t7 = t8
        if t7 is not False:
            t13 = d_axis__wraps_are_retained(v_axis)
            t14 = None if t13 is None else not t13
            if t7 is None:
                t7 = False if t14 is False else None
            else:
                t7 = t14
        if t1 is None:
            t1 = True if t7 is True else None
        else:
            t1 = t7
    v_axis['=forgets_position'] = t1
    return t1

def d_axis__why_it_forgets(v_axis):
    if '=why_it_forgets' in v_axis:
        return v_axis['=why_it_forgets']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('encoder.kind')
    t2 = None if t1 is None else t1 == 'incremental'
    if t2 is None:
        t3 = None
    elif t2:
        t3 = 'the encoder is incremental'
    else:
        t5 = v_axis.get('drive.encoder_use')
        t6 = None if t5 is None else t5 == 'incremental'
        t4 = t6
        if t4 is None and not ('#disputed' in v_axis and disputed(v_axis, ('drive.encoder_use',))):
            t4 = False
        if t4 is None:
            t7 = None
        elif t4:
            t7 = 'the drive uses an absolute encoder as incremental'
        else:
            t7 = 'the encoder is absolute within one turn only, and the axis makes more'
        t3 = t7
    v_axis['=why_it_forgets'] = t3
    return t3

def d_axis__turns_below_reference(v_axis):
    if '=turns_below_reference' in v_axis:
        return v_axis['=turns_below_reference']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.unfolding')
    t2 = None if t1 is None else t1 == 'symmetric'
    if t2 is None:
        t3 = None
    elif t2:
        t4 = d_axis__absolute_turns(v_axis)
        t5 = None if t4 is None else div(t4, 2)
        t3 = t5
    else:
        t6 = v_axis.get('controller.unfolding')
        t7 = None if t6 is None else t6 == 'from_reference'
        if t7 is None:
            t8 = None
        elif t7:
            t8 = 0
        else:
            t9 = d_axis__counts_rise_with_position(v_axis)
            if t9 is None:
                t10 = None
            elif t9:
                t11 = d_axis__reading_above_zero(v_axis)
                t10 = t11
            else:
                t12 = d_axis__absolute_turns(v_axis)
                t13 = d_axis__reading_slack(v_axis)
                t14 = None if t12 is None or t13 is None else t12 - t13
                t15 = d_axis__reading_above_zero(v_axis)
                t16 = None if t14 is None or t15 is None else t14 - t15
                t10 = t16
            t8 = t10
        t3 = t8
    v_axis['=turns_below_reference'] = t3
    return t3

def d_axis__turns_above_reference(v_axis):
    if '=turns_above_reference' in v_axis:
        return v_axis['=turns_above_reference']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.unfolding')
    t2 = None if t1 is None else t1 == 'symmetric'
    if t2 is None:
        t3 = None
    elif t2:
        t4 = d_axis__absolute_turns(v_axis)
        t5 = None if t4 is None else div(t4, 2)
        t3 = t5
    else:
        t6 = v_axis.get('controller.unfolding')
        t7 = None if t6 is None else t6 == 'from_reference'
        if t7 is None:
            t8 = None
        elif t7:
            t9 = d_axis__absolute_turns(v_axis)
            t8 = t9
        else:
            t10 = d_axis__counts_rise_with_position(v_axis)
            if t10 is None:
                t11 = None
            elif t10:
                t12 = d_axis__absolute_turns(v_axis)
                t13 = d_axis__reading_slack(v_axis)
                t14 = None if t12 is None or t13 is None else t12 - t13
                t15 = d_axis__reading_above_zero(v_axis)
                t16 = None if t14 is None or t15 is None else t14 - t15
                t11 = t16
            else:
                t17 = d_axis__reading_above_zero(v_axis)
                t11 = t17
            t8 = t11
        t3 = t8
    v_axis['=turns_above_reference'] = t3
    return t3

def d_axis__whole_reading(v_axis):
    if '=whole_reading' in v_axis:
        return v_axis['=whole_reading']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('encoder.kind')
    t2 = None if t1 is None else t1 == 'absolute_singleturn'
    if t2 is None:
        t3 = None
    elif t2:
        t3 = 0
    else:
        t4 = v_axis.get('encoder.turn_counter.reading_at_reference')
        t3 = t4
    v_axis['=whole_reading'] = t3
    return t3

def d_axis__reading_is_possible(v_axis):
    if '=reading_is_possible' in v_axis:
        return v_axis['=reading_is_possible']
    v_machine = v_axis["@machine"]
    t3 = d_axis__whole_reading(v_axis)
    t4 = d_axis__absolute_turns(v_axis)
    t5 = None if t3 is None or t4 is None else t3 < t4
    t2 = t5
    if t2 is None and not ('#disputed' in v_axis and disputed(v_axis, ('encoder.kind', 'encoder.turn_counter.reading_at_reference', 'encoder.distinguishable_revolutions'))):
        t2 = True
    t1 = t2
    if t1 is not False:
        t7 = v_axis.get('encoder.angle_at_reference')
        t8 = None if t7 is None else t7 < 1
        t6 = t8
        if t6 is None and not ('#disputed' in v_axis and disputed(v_axis, ('encoder.angle_at_reference',))):
            t6 = True
        if t1 is None:
            t1 = False if t6 is False else None
        else:
            t1 = t6
    v_axis['=reading_is_possible'] = t1
    return t1

def d_axis__middle_within_turn(v_axis):
    if '=middle_within_turn' in v_axis:
        return v_axis['=middle_within_turn']
    v_machine = v_axis["@machine"]
    t2 = d_axis__whole_reading(v_axis)
    t3 = d_axis__absolute_turns(v_axis)
    t4 = None if t3 is None else div(t3, 2)
    t5 = None if t2 is None or t4 is None else t2 < t4
    t1 = t5
    if t1 is not False:
        t6 = d_axis__whole_reading(v_axis)
        t7 = None if t6 is None else t6 + 1
        t8 = d_axis__absolute_turns(v_axis)
        t9 = None if t8 is None else div(t8, 2)
        t10 = None if t7 is None or t9 is None else t7 > t9
        if t1 is None:
            t1 = False if t10 is False else None
        else:
            t1 = t10
    v_axis['=middle_within_turn'] = t1
    return t1

def d_axis__reading_above_zero(v_axis):
    if '=reading_above_zero' in v_axis:
        return v_axis['=reading_above_zero']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.unfolding')
    t2 = None if t1 is None else t1 == 'encoder_zero_signed'
    t3 = None if t2 is None else not t2
    if t3 is None:
        t4 = None
    elif t3:
        t5 = d_axis__whole_reading(v_axis)
        t4 = t5
    else:
        t6 = d_axis__middle_within_turn(v_axis)
        if t6 is None:
            t7 = None
        elif t6:
            t7 = 0
        else:
            t8 = d_axis__whole_reading(v_axis)
            t9 = d_axis__absolute_turns(v_axis)
            t10 = None if t9 is None else div(t9, 2)
            t11 = None if t8 is None or t10 is None else t8 >= t10
            if t11 is None:
                t12 = None
            elif t11:
                t13 = d_axis__whole_reading(v_axis)
                t14 = d_axis__absolute_turns(v_axis)
                t15 = None if t14 is None else div(t14, 2)
                t16 = None if t13 is None or t15 is None else t13 - t15
                t12 = t16
            else:
                t17 = d_axis__whole_reading(v_axis)
                t18 = d_axis__absolute_turns(v_axis)
                t19 = None if t18 is None else div(t18, 2)
                t20 = None if t17 is None or t19 is None else t17 + t19
                t12 = t20
            t7 = t12
        t4 = t7
    v_axis['=reading_above_zero'] = t4
    return t4

def d_axis__reading_slack(v_axis):
    if '=reading_slack' in v_axis:
        return v_axis['=reading_slack']
    v_machine = v_axis["@machine"]
    t2 = v_axis.get('controller.unfolding')
    t3 = None if t2 is None else t2 == 'symmetric'
    t1 = t3
    if t1 is not True:
        t4 = v_axis.get('controller.unfolding')
        t5 = None if t4 is None else t4 == 'from_reference'
        if t1 is None:
            t1 = True if t5 is True else None
        else:
            t1 = t5
    if t1 is None:
        t6 = None
    elif t1:
        t6 = 0
    else:
        t8 = v_axis.get('controller.unfolding')
        t9 = None if t8 is None else t8 == 'encoder_zero_signed'
        t7 = t9
        if t7 is not False:
            t10 = d_axis__middle_within_turn(v_axis)
            if t7 is None:
                t7 = False if t10 is False else None
            else:
                t7 = t10
        if t7 is None:
            t11 = None
        elif t7:
            t12 = d_axis__absolute_turns(v_axis)
            t11 = t12
        else:
            t11 = 1
        t6 = t11
    v_axis['=reading_slack'] = t6
    return t6

def d_axis__exact_reading(v_axis):
    if '=exact_reading' in v_axis:
        return v_axis['=exact_reading']
    v_machine = v_axis["@machine"]
    t1 = d_axis__whole_reading(v_axis)
    t2 = v_axis.get('encoder.angle_at_reference')
    t3 = None if t1 is None or t2 is None else t1 + t2
    v_axis['=exact_reading'] = t3
    return t3

def d_axis__exact_reading_above_zero(v_axis):
    if '=exact_reading_above_zero' in v_axis:
        return v_axis['=exact_reading_above_zero']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.unfolding')
    t2 = None if t1 is None else t1 == 'encoder_zero_signed'
    t3 = None if t2 is None else not t2
    if t3 is None:
        t4 = None
    elif t3:
        t5 = d_axis__exact_reading(v_axis)
        t4 = t5
    else:
        t6 = d_axis__exact_reading(v_axis)
        t7 = d_axis__absolute_turns(v_axis)
        t8 = None if t7 is None else div(t7, 2)
        t9 = None if t6 is None or t8 is None else t6 >= t8
        if t9 is None:
            t10 = None
        elif t9:
            t11 = d_axis__exact_reading(v_axis)
            t12 = d_axis__absolute_turns(v_axis)
            t13 = None if t12 is None else div(t12, 2)
            t14 = None if t11 is None or t13 is None else t11 - t13
            t10 = t14
        else:
            t15 = d_axis__exact_reading(v_axis)
            t16 = d_axis__absolute_turns(v_axis)
            t17 = None if t16 is None else div(t16, 2)
            t18 = None if t15 is None or t17 is None else t15 + t17
            t10 = t18
        t4 = t10
    v_axis['=exact_reading_above_zero'] = t4
    return t4

def d_axis__exact_lower_wrap(v_axis):
    if '=exact_lower_wrap' in v_axis:
        return v_axis['=exact_lower_wrap']
    v_machine = v_axis["@machine"]
    t1 = d_axis__reading_slack(v_axis)
    t2 = None if t1 is None else eq(t1, 0)
    if t2 is None:
        t3 = None
    elif t2:
        t4 = d_axis__lower_wrap(v_axis)
        t3 = t4
    else:
        t5 = v_axis.get('controller.homing.reference_position')
        t6 = d_axis__counts_rise_with_position(v_axis)
        if t6 is None:
            t7 = None
        elif t6:
            t8 = d_axis__exact_reading_above_zero(v_axis)
            t7 = t8
        else:
            t9 = d_axis__absolute_turns(v_axis)
            t10 = d_axis__exact_reading_above_zero(v_axis)
            t11 = None if t9 is None or t10 is None else t9 - t10
            t7 = t11
        t12 = d_axis__units_per_encoder_rev(v_axis)
        t13 = None if t7 is None or t12 is None else t7 * t12
        t14 = None if t5 is None or t13 is None else t5 - t13
        t3 = t14
    v_axis['=exact_lower_wrap'] = t3
    return t3

def d_axis__exact_upper_wrap(v_axis):
    if '=exact_upper_wrap' in v_axis:
        return v_axis['=exact_upper_wrap']
    v_machine = v_axis["@machine"]
    t1 = d_axis__reading_slack(v_axis)
    t2 = None if t1 is None else eq(t1, 0)
    if t2 is None:
        t3 = None
    elif t2:
        t4 = d_axis__upper_wrap(v_axis)
        t3 = t4
    else:
        t5 = d_axis__exact_lower_wrap(v_axis)
        t6 = d_axis__absolute_range(v_axis)
        t7 = None if t5 is None or t6 is None else t5 + t6
        t3 = t7
    v_axis['=exact_upper_wrap'] = t3
    return t3

def d_axis__furthest_lower_wrap(v_axis):
    if '=furthest_lower_wrap' in v_axis:
        return v_axis['=furthest_lower_wrap']
    v_machine = v_axis["@machine"]
    t1 = d_axis__lower_wrap(v_axis)
    t2 = d_axis__reading_slack(v_axis)
    t3 = d_axis__units_per_encoder_rev(v_axis)
    t4 = None if t2 is None or t3 is None else t2 * t3
    t5 = None if t1 is None or t4 is None else t1 - t4
    v_axis['=furthest_lower_wrap'] = t5
    return t5

def d_axis__furthest_upper_wrap(v_axis):
    if '=furthest_upper_wrap' in v_axis:
        return v_axis['=furthest_upper_wrap']
    v_machine = v_axis["@machine"]
    t1 = d_axis__upper_wrap(v_axis)
    t2 = d_axis__reading_slack(v_axis)
    t3 = d_axis__units_per_encoder_rev(v_axis)
    t4 = None if t2 is None or t3 is None else t2 * t3
    t5 = None if t1 is None or t4 is None else t1 + t4
    v_axis['=furthest_upper_wrap'] = t5
    return t5

def d_axis__lower_wrap(v_axis):
    if '=lower_wrap' in v_axis:
        return v_axis['=lower_wrap']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.homing.reference_position')
    t2 = d_axis__turns_below_reference(v_axis)
    t3 = d_axis__units_per_encoder_rev(v_axis)
    t4 = None if t2 is None or t3 is None else t2 * t3
    t5 = None if t1 is None or t4 is None else t1 - t4
    v_axis['=lower_wrap'] = t5
    return t5

def d_axis__upper_wrap(v_axis):
    if '=upper_wrap' in v_axis:
        return v_axis['=upper_wrap']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.homing.reference_position')
    t2 = d_axis__turns_above_reference(v_axis)
    t3 = d_axis__units_per_encoder_rev(v_axis)
    t4 = None if t2 is None or t3 is None else t2 * t3
    t5 = None if t1 is None or t4 is None else t1 + t4
    v_axis['=upper_wrap'] = t5
    return t5

def d_axis__reference_moves_with_encoder(v_axis):
    if '=reference_moves_with_encoder' in v_axis:
        return v_axis['=reference_moves_with_encoder']
    v_machine = v_axis["@machine"]
    t3 = v_axis.get('encoder.kind')
    t4 = None if t3 is None else t3 == 'incremental'
    t5 = None if t4 is None else not t4
    t2 = t5
    if t2 is not True:
        t6 = v_axis.get('controller.homing.method')
        t7 = None if t6 is None else f_is_makers_own(t6)
        if t2 is None:
            t2 = True if t7 is True else None
        else:
            t2 = t7
    t1 = t2
    if t1 is not True:
        t8 = v_axis.get('controller.homing.method')
        t9 = None if t8 is None else f_uses_index(t8)
        if t1 is None:
            t1 = True if t9 is True else None
        else:
            t1 = t9
    v_axis['=reference_moves_with_encoder'] = t1
    return t1

def d_axis__reference_moves_with_motor(v_axis):
    if '=reference_moves_with_motor' in v_axis:
        return v_axis['=reference_moves_with_motor']
    v_machine = v_axis["@machine"]
    t2 = d_axis__reference_moves_with_encoder(v_axis)
    t1 = t2
    if t1 is not False:
        t3 = v_axis.get('encoder.mounted_on')
        t4 = None if t3 is None else t3 == 'motor'
        if t1 is None:
            t1 = False if t4 is False else None
        else:
            t1 = t4
    v_axis['=reference_moves_with_motor'] = t1
    return t1

def d_axis__reference_leaves_with_drive(v_axis):
    if '=reference_leaves_with_drive' in v_axis:
        return v_axis['=reference_leaves_with_drive']
    v_machine = v_axis["@machine"]
    t2 = v_axis.get('storage.offset')
    t3 = None if t2 is None else t2 == 'drive'
    t1 = t3
    if t1 is not True:
        t5 = d_axis__relies_on_turn_counter(v_axis)
        t4 = t5
        if t4 is not False:
            t6 = v_axis.get('storage.turns')
            t7 = None if t6 is None else t6 == 'drive'
            if t4 is None:
                t4 = False if t7 is False else None
            else:
                t4 = t7
        if t1 is None:
            t1 = True if t4 is True else None
        else:
            t1 = t4
    v_axis['=reference_leaves_with_drive'] = t1
    return t1

def d_axis__controller_stopping_distance(v_axis):
    if '=controller_stopping_distance' in v_axis:
        return v_axis['=controller_stopping_distance']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.software_limits.planned')
    if t1 is None:
        t2 = None
    elif t1:
        t3 = v_axis.get('controller.overshoot')
        t2 = t3
    else:
        t4 = v_axis.get('controller.stop.jerk')
        t5 = None if t4 is None else t4 is NONE
        if t5 is None:
            t6 = None
        elif t5:
            t7 = v_axis.get('controller.max_velocity')
            t8 = v_axis.get('controller.stop.deceleration')
            t9 = v_axis.get('controller.stop.delay')
            t10 = None if t7 is None or t8 is None or t9 is None else f_stopping_distance(t7, t8, t9)
            t6 = t10
        else:
            t11 = v_axis.get('controller.max_velocity')
            t12 = v_axis.get('controller.stop.deceleration')
            t13 = v_axis.get('controller.stop.jerk')
            if t13 is NONE:
                t13 = None
            t14 = v_axis.get('controller.stop.delay')
            t15 = None if t11 is None or t12 is None or t13 is None or t14 is None else f_stopping_distance_with_jerk(t11, t12, t13, t14)
            t6 = t15
        t2 = t6
    v_axis['=controller_stopping_distance'] = t2
    return t2

def d_axis__drive_stopping_distance(v_axis):
    if '=drive_stopping_distance' in v_axis:
        return v_axis['=drive_stopping_distance']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('drive.stop_reaction.jerk')
    t2 = None if t1 is None else t1 is NONE
    if t2 is None:
        t3 = None
    elif t2:
        t4 = v_axis.get('controller.max_velocity')
        t5 = v_axis.get('drive.stop_reaction.deceleration')
        t6 = v_axis.get('drive.stop_reaction.delay')
        t7 = None if t4 is None or t5 is None or t6 is None else f_stopping_distance(t4, t5, t6)
        t3 = t7
    else:
        t8 = v_axis.get('controller.max_velocity')
        t9 = v_axis.get('drive.stop_reaction.deceleration')
        t10 = v_axis.get('drive.stop_reaction.jerk')
        if t10 is NONE:
            t10 = None
        t11 = v_axis.get('drive.stop_reaction.delay')
        t12 = None if t8 is None or t9 is None or t10 is None or t11 is None else f_stopping_distance_with_jerk(t8, t9, t10, t11)
        t3 = t12
    v_axis['=drive_stopping_distance'] = t3
    return t3

def d_axis__switches_in_order(v_axis):
    if '=switches_in_order' in v_axis:
        return v_axis['=switches_in_order']
    v_machine = v_axis["@machine"]
    t2 = v_axis.get('mechanics.limit_switches.negative')
    t3 = v_axis.get('mechanics.limit_switches.positive')
    t4 = None if t2 is None or t3 is None else t2 < t3
    t1 = t4
    if t1 is None and not ('#disputed' in v_axis and disputed(v_axis, ('mechanics.limit_switches.negative', 'mechanics.limit_switches.positive'))):
        t1 = True
    v_axis['=switches_in_order'] = t1
    return t1

def d_axis__stops_in_order(v_axis):
    if '=stops_in_order' in v_axis:
        return v_axis['=stops_in_order']
    v_machine = v_axis["@machine"]
    t2 = v_axis.get('mechanics.travel.min')
    t3 = v_axis.get('mechanics.travel.max')
    t4 = None if t2 is None or t3 is None else t2 < t3
    t1 = t4
    if t1 is None and not ('#disputed' in v_axis and disputed(v_axis, ('mechanics.travel.min', 'mechanics.travel.max'))):
        t1 = True
    v_axis['=stops_in_order'] = t1
    return t1

def d_axis__lowest_safe(v_axis):
    if '=lowest_safe' in v_axis:
        return v_axis['=lowest_safe']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('mechanics.limit_switches')
    t2 = None if t1 is None else t1 is NONE
    if t2 is None:
        t3 = None
    elif t2:
        t4 = v_axis.get('mechanics.travel.min')
        t3 = t4
    else:
        t5 = v_axis.get('mechanics.limit_switches.negative')
        t3 = t5
    v_axis['=lowest_safe'] = t3
    return t3

def d_axis__highest_safe(v_axis):
    if '=highest_safe' in v_axis:
        return v_axis['=highest_safe']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('mechanics.limit_switches')
    t2 = None if t1 is None else t1 is NONE
    if t2 is None:
        t3 = None
    elif t2:
        t4 = v_axis.get('mechanics.travel.max')
        t3 = t4
    else:
        t5 = v_axis.get('mechanics.limit_switches.positive')
        t3 = t5
    v_axis['=highest_safe'] = t3
    return t3

def d_axis__top_motor_speed(v_axis):
    if '=top_motor_speed' in v_axis:
        return v_axis['=top_motor_speed']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.max_velocity')
    t2 = d_axis__units_per_motor_rev(v_axis)
    t3 = None if t1 is None or t2 is None else div(t1, t2)
    v_axis['=top_motor_speed'] = t3
    return t3

def d_axis__reachable_motor_speed(v_axis):
    if '=reachable_motor_speed' in v_axis:
        return v_axis['=reachable_motor_speed']
    v_machine = v_axis["@machine"]
    t1 = d_axis__top_motor_speed(v_axis)
    t2 = v_axis.get('drive.max_speed')
    t3 = None if t1 is None or t2 is None else f_smaller(t1, t2)
    v_axis['=reachable_motor_speed'] = t3
    return t3

def d_axis__top_encoder_speed(v_axis):
    if '=top_encoder_speed' in v_axis:
        return v_axis['=top_encoder_speed']
    v_machine = v_axis["@machine"]
    t1 = d_axis__reachable_motor_speed(v_axis)
    t2 = d_axis__encoder_turns_per_driving_shaft_turn(v_axis)
    t3 = None if t1 is None or t2 is None else t1 * t2
    t4 = d_axis__gear_ratio(v_axis)
    t5 = None if t3 is None or t4 is None else div(t3, t4)
    v_axis['=top_encoder_speed'] = t5
    return t5

def d_axis__reachable_velocity(v_axis):
    if '=reachable_velocity' in v_axis:
        return v_axis['=reachable_velocity']
    v_machine = v_axis["@machine"]
    t1 = d_axis__has_driving_shaft(v_axis)
    if t1 is None:
        t2 = None
    elif t1:
        t3 = d_axis__reachable_motor_speed(v_axis)
        t4 = d_axis__units_per_motor_rev(v_axis)
        t5 = None if t3 is None or t4 is None else t3 * t4
        t2 = t5
    else:
        t6 = v_axis.get('controller.max_velocity')
        t2 = t6
    v_axis['=reachable_velocity'] = t2
    return t2

def d_axis__top_count_rate(v_axis):
    if '=top_count_rate' in v_axis:
        return v_axis['=top_count_rate']
    v_machine = v_axis["@machine"]
    t1 = d_axis__reachable_velocity(v_axis)
    t2 = d_axis__counts_per_unit(v_axis)
    t3 = None if t1 is None or t2 is None else t1 * t2
    v_axis['=top_count_rate'] = t3
    return t3

def d_axis__unbalanced_share(v_axis):
    if '=unbalanced_share' in v_axis:
        return v_axis['=unbalanced_share']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('mechanics.counterbalance')
    t2 = None if t1 is None else t1 is NONE
    if t2 is None:
        t3 = None
    elif t2:
        t3 = 1
    else:
        t4 = v_axis.get('mechanics.counterbalance')
        if t4 is NONE:
            t4 = None
        t5 = None if t4 is None else 1 - t4
        t3 = t5
    v_axis['=unbalanced_share'] = t3
    return t3

def d_axis__hangs(v_axis):
    if '=hangs' in v_axis:
        return v_axis['=hangs']
    v_machine = v_axis["@machine"]
    t2 = v_axis.get('mechanics.vertical')
    t1 = t2
    if t1 is not False:
        t4 = v_axis.get('motion')
        t5 = None if t4 is None else t4 == 'rotary'
        t3 = t5
        if t3 is not True:
            t6 = d_axis__weight_share(v_axis)
            t7 = None if t6 is None else t6 > 0
            if t3 is None:
                t3 = True if t7 is True else None
            else:
                t3 = t7
        if t1 is None:
            t1 = False if t3 is False else None
        else:
            t1 = t3
    v_axis['=hangs'] = t1
    return t1

def d_axis_interlocks__doubts_position(v_lock):
    if '=doubts_position' in v_lock:
        return v_lock['=doubts_position']
    t6 = v_lock.get('triggers')
    t7 = v_lock.get('triggers#partial')
    if t6 is None:
        t8 = None
    elif 'position_lost' in t6:
        t8 = True
    else:
        t8 = None if t7 else False
    t5 = t8
    if t5 is not True:
        t9 = v_lock.get('triggers')
        t10 = v_lock.get('triggers#partial')
        if t9 is None:
            t11 = None
        elif 'turn_count_disagreement' in t9:
            t11 = True
        else:
            t11 = None if t10 else False
        if t5 is None:
            t5 = True if t11 is True else None
        else:
            t5 = t11
    t4 = t5
    if t4 is not True:
        t12 = v_lock.get('triggers')
        t13 = v_lock.get('triggers#partial')
        if t12 is None:
            t14 = None
        elif 'battery_dead_at_power_up' in t12:
            t14 = True
        else:
            t14 = None if t13 else False
        if t4 is None:
            t4 = True if t14 is True else None
        else:
            t4 = t14
    t3 = t4
    if t3 is not True:
        t15 = v_lock.get('triggers')
        t16 = v_lock.get('triggers#partial')
        if t15 is None:
            t17 = None
        elif 'encoder_replaced' in t15:
            t17 = True
        else:
            t17 = None if t16 else False
        if t3 is None:
            t3 = True if t17 is True else None
        else:
            t3 = t17
    t2 = t3
    if t2 is not True:
        t18 = v_lock.get('triggers')
        t19 = v_lock.get('triggers#partial')
        if t18 is None:
            t20 = None
        elif 'motor_replaced' in t18:
            t20 = True
        else:
            t20 = None if t19 else False
        if t2 is None:
            t2 = True if t20 is True else None
        else:
            t2 = t20
    t1 = t2
    if t1 is not True:
        t21 = v_lock.get('triggers')
        t22 = v_lock.get('triggers#partial')
        if t21 is None:
            t23 = None
        elif 'drive_replaced' in t21:
            t23 = True
        else:
            t23 = None if t22 else False
        if t1 is None:
            t1 = True if t23 is True else None
        else:
            t1 = t23
    v_lock['=doubts_position'] = t1
    return t1

def d_axis__gear_due_as_typed(v_axis):
    if '=gear_due_as_typed' in v_axis:
        return v_axis['=gear_due_as_typed']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('drive.gear.multiplies')
    t2 = None if t1 is None else t1 == 'command'
    if t2 is None:
        t3 = None
    elif t2:
        t4 = d_axis__drive_gear_due(v_axis)
        t3 = t4
    else:
        t5 = d_axis__drive_gear_due(v_axis)
        t6 = None if t5 is None else div(1, t5)
        t3 = t6
    v_axis['=gear_due_as_typed'] = t3
    return t3

def d_axis__drive_gear(v_axis):
    if '=drive_gear' in v_axis:
        return v_axis['=drive_gear']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('drive.gear.multiplies')
    t2 = None if t1 is None else t1 == 'command'
    if t2 is None:
        t3 = None
    elif t2:
        t4 = v_axis.get('drive.gear.numerator')
        t5 = v_axis.get('drive.gear.denominator')
        t6 = None if t4 is None or t5 is None else div(t4, t5)
        t3 = t6
    else:
        t7 = v_axis.get('drive.gear.denominator')
        t8 = v_axis.get('drive.gear.numerator')
        t9 = None if t7 is None or t8 is None else div(t7, t8)
        t3 = t9
    v_axis['=drive_gear'] = t3
    return t3

def d_axis__drive_gear_due(v_axis):
    if '=drive_gear_due' in v_axis:
        return v_axis['=drive_gear_due']
    v_machine = v_axis["@machine"]
    t1 = d_axis__counts_per_unit(v_axis)
    t2 = v_axis.get('drive.gear.command_increment')
    t3 = None if t1 is None or t2 is None else t1 * t2
    t4 = None if t3 is None else div(t3, 1)
    v_axis['=drive_gear_due'] = t4
    return t4

def d_axis__controller_counts_per_unit(v_axis):
    if '=controller_counts_per_unit' in v_axis:
        return v_axis['=controller_counts_per_unit']
    v_machine = v_axis["@machine"]
    t2 = v_axis.get('controller.scaling.counts')
    t3 = v_axis.get('controller.scaling.distance')
    t4 = None if t2 is None or t3 is None else div(t2, t3)
    t1 = t4
    if t1 is None and not ('#disputed' in v_axis and disputed(v_axis, ('controller.scaling.counts', 'controller.scaling.distance'))):
        t5 = v_axis.get('controller.counts_per_unit')
        t1 = t5
    v_axis['=controller_counts_per_unit'] = t1
    return t1

def d_axis__controller_counts_per_unit_due(v_axis):
    if '=controller_counts_per_unit_due' in v_axis:
        return v_axis['=controller_counts_per_unit_due']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('drive.gear')
    t2 = None if t1 is None else t1 is NONE
    if t2 is None:
        t3 = None
    elif t2:
        t4 = d_axis__counts_per_unit(v_axis)
        t3 = t4
    else:
        t5 = v_axis.get('drive.gear.command_increment')
        t6 = None if t5 is None else div(1, t5)
        t3 = t6
    v_axis['=controller_counts_per_unit_due'] = t3
    return t3

def d_axis__ends_are_known(v_axis):
    if '=ends_are_known' in v_axis:
        return v_axis['=ends_are_known']
    v_machine = v_axis["@machine"]
    t2 = v_axis.get('mechanics.travel')
    t3 = None if t2 is None else t2 is NONE
    t4 = None if t3 is None else not t3
    t1 = t4
    if t1 is not True:
        t6 = d_axis__relies_on_turn_counter(v_axis)
        t5 = t6
        if t5 is not False:
            t7 = v_axis.get('controller.homing')
            t8 = None if t7 is None else t7 is NONE
            t9 = None if t8 is None else not t8
            if t5 is None:
                t5 = False if t9 is False else None
            else:
                t5 = t9
        if t1 is None:
            t1 = True if t5 is True else None
        else:
            t1 = t5
    v_axis['=ends_are_known'] = t1
    return t1

def d_axis__lowest_place(v_axis):
    if '=lowest_place' in v_axis:
        return v_axis['=lowest_place']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('mechanics.travel')
    t2 = None if t1 is None else t1 is NONE
    t3 = None if t2 is None else not t2
    if t3 is None:
        t4 = None
    elif t3:
        t5 = v_axis.get('mechanics.travel.min')
        t4 = t5
    else:
        t6 = d_axis__furthest_lower_wrap(v_axis)
        t4 = t6
    v_axis['=lowest_place'] = t4
    return t4

def d_axis__highest_place(v_axis):
    if '=highest_place' in v_axis:
        return v_axis['=highest_place']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('mechanics.travel')
    t2 = None if t1 is None else t1 is NONE
    t3 = None if t2 is None else not t2
    if t3 is None:
        t4 = None
    elif t3:
        t5 = v_axis.get('mechanics.travel.max')
        t4 = t5
    else:
        t6 = d_axis__furthest_upper_wrap(v_axis)
        t4 = t6
    v_axis['=highest_place'] = t4
    return t4

def d_axis__lowest_count(v_axis):
    if '=lowest_count' in v_axis:
        return v_axis['=lowest_count']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.polarity')
    t2 = None if t1 is None else t1 == 'normal'
    if t2 is None:
        t3 = None
    elif t2:
        t4 = d_axis__lowest_place(v_axis)
        t3 = t4
    else:
        t5 = d_axis__highest_place(v_axis)
        t6 = None if t5 is None else -t5
        t3 = t6
    t7 = d_axis__counts_per_unit(v_axis)
    t8 = None if t3 is None or t7 is None else t3 * t7
    t9 = None if t8 is None else div(t8, 1)
    v_axis['=lowest_count'] = t9
    return t9

def d_axis__highest_count(v_axis):
    if '=highest_count' in v_axis:
        return v_axis['=highest_count']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.polarity')
    t2 = None if t1 is None else t1 == 'normal'
    if t2 is None:
        t3 = None
    elif t2:
        t4 = d_axis__highest_place(v_axis)
        t3 = t4
    else:
        t5 = d_axis__lowest_place(v_axis)
        t6 = None if t5 is None else -t5
        t3 = t6
    t7 = d_axis__counts_per_unit(v_axis)
    t8 = None if t3 is None or t7 is None else t3 * t7
    t9 = None if t8 is None else div(t8, 1)
    v_axis['=highest_count'] = t9
    return t9

def d_axis__positions_to_hold(v_axis):
    if '=positions_to_hold' in v_axis:
        return v_axis['=positions_to_hold']
    v_machine = v_axis["@machine"]
    t1 = d_axis__relies_on_turn_counter(v_axis)
    if t1 is None:
        t2 = None
    elif t1:
        t3 = d_axis__encoder_counts_per_revolution(v_axis)
        t4 = v_axis.get('encoder.distinguishable_revolutions')
        t5 = None if t3 is None or t4 is None else t3 * t4
        t6 = None if t5 is None else div(t5, 1)
        t2 = t6
    else:
        t7 = d_axis__highest_count(v_axis)
        t8 = d_axis__lowest_count(v_axis)
        t9 = None if t7 is None or t8 is None else t7 - t8
        t10 = None if t9 is None else t9 + 1
        t2 = t10
    v_axis['=positions_to_hold'] = t2
    return t2

def d_axis__drive_units_per_motor_rev(v_axis):
    if '=drive_units_per_motor_rev' in v_axis:
        return v_axis['=drive_units_per_motor_rev']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('drive.feed_constant.feed')
    t2 = v_axis.get('drive.feed_constant.shaft_turns')
    t3 = None if t1 is None or t2 is None else div(t1, t2)
    t4 = v_axis.get('drive.gear_ratio.shaft_turns')
    t5 = None if t3 is None or t4 is None else t3 * t4
    t6 = v_axis.get('drive.gear_ratio.motor_turns')
    t7 = None if t5 is None or t6 is None else div(t5, t6)
    v_axis['=drive_units_per_motor_rev'] = t7
    return t7

def d_machine__motors_carry_references(v_machine):
    if '=motors_carry_references' in v_machine:
        return v_machine['=motors_carry_references']
    t1 = v_machine.get('axes')
    t2 = v_machine.get('axes#partial')
    if t1 is None:
        t3 = None
    else:
        t3 = None if t2 else False
        for v_axis in metered(t1, 2):
            t4 = d_axis__reference_moves_with_motor(v_axis)
            if t4 is True:
                t3 = True
                break
            if t4 is None:
                t3 = None
    v_machine['=motors_carry_references'] = t3
    return t3

def d_machine__drives_carry_references(v_machine):
    if '=drives_carry_references' in v_machine:
        return v_machine['=drives_carry_references']
    t1 = v_machine.get('axes')
    t2 = v_machine.get('axes#partial')
    if t1 is None:
        t3 = None
    else:
        t3 = None if t2 else False
        for v_axis in metered(t1, 2):
            t4 = d_axis__reference_leaves_with_drive(v_axis)
            if t4 is True:
                t3 = True
                break
            if t4 is None:
                t3 = None
    v_machine['=drives_carry_references'] = t3
    return t3

def d_machine_conditions__doubts_position(v_code):
    if '=doubts_position' in v_code:
        return v_code['=doubts_position']
    t1 = v_code.get('condition')
    t2 = None if t1 is None else t1 in ('position_lost', 'turn_count_disagreement', 'turn_counter_overflow', 'battery_dead', 'encoder_unlike_record',)
    v_code['=doubts_position'] = t2
    return t2

def d_machine__turns_are_used(v_machine):
    if '=turns_are_used' in v_machine:
        return v_machine['=turns_are_used']
    t1 = v_machine.get('axes')
    t2 = v_machine.get('axes#partial')
    if t1 is None:
        t3 = None
    else:
        t3 = None if t2 else False
        for v_axis in metered(t1, 2):
            t4 = d_axis__relies_on_turn_counter(v_axis)
            if t4 is True:
                t3 = True
                break
            if t4 is None:
                t3 = None
    v_machine['=turns_are_used'] = t3
    return t3

def d_machine__batteries_are_used(v_machine):
    if '=batteries_are_used' in v_machine:
        return v_machine['=batteries_are_used']
    t1 = v_machine.get('axes')
    t2 = v_machine.get('axes#partial')
    if t1 is None:
        t3 = None
    else:
        t3 = None if t2 else False
        for v_axis in metered(t1, 2):
            t4 = d_axis__turns_need_battery(v_axis)
            if t4 is True:
                t3 = True
                break
            if t4 is None:
                t3 = None
    v_machine['=batteries_are_used'] = t3
    return t3

def d_axis__motor_follows_position(v_axis):
    if '=motor_follows_position' in v_axis:
        return v_axis['=motor_follows_position']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.polarity')
    t2 = None if t1 is None else t1 == 'normal'
    t3 = v_axis.get('drive.polarity')
    t4 = None if t3 is None else t3 == 'normal'
    t5 = None if t2 is None or t4 is None else t2 == t4
    v_axis['=motor_follows_position'] = t5
    return t5

def d_axis__stages_keep_direction(v_axis):
    if '=stages_keep_direction' in v_axis:
        return v_axis['=stages_keep_direction']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('mechanics.stages')
    t2 = v_axis.get('mechanics.stages#partial')
    if t1 is None or t2:
        t3 = None
    else:
        t4 = True
        t3 = 0
        for v_stage in t1:
            t5 = v_stage.get('reversing')
            if t5 is False:
                continue
            if t5 is None:
                t4 = False
                break
            t3 += 1
        t3 = t3 if t4 else None
    t6 = None if t3 is None else div(t3, 2)
    t7 = None if t6 is None else is_whole(t6)
    v_axis['=stages_keep_direction'] = t7
    return t7

def d_axis__load_follows_position(v_axis):
    if '=load_follows_position' in v_axis:
        return v_axis['=load_follows_position']
    v_machine = v_axis["@machine"]
    t1 = d_axis__motor_follows_position(v_axis)
    t2 = d_axis__stages_keep_direction(v_axis)
    t3 = v_axis.get('mechanics.final.direction')
    t4 = None if t3 is None else t3 == 'same'
    t5 = None if t2 is None or t4 is None else t2 == t4
    t6 = None if t1 is None or t5 is None else t1 == t5
    v_axis['=load_follows_position'] = t6
    return t6

def d_axis__polarities_agree(v_axis):
    if '=polarities_agree' in v_axis:
        return v_axis['=polarities_agree']
    v_machine = v_axis["@machine"]
    t2 = v_axis.get('drive.velocity_polarity')
    t3 = v_axis.get('drive.polarity')
    t4 = None if t2 is None or t3 is None else t2 == t3
    t1 = t4
    if t1 is None and not ('#disputed' in v_axis and disputed(v_axis, ('drive.velocity_polarity', 'drive.polarity'))):
        t1 = True
    v_axis['=polarities_agree'] = t1
    return t1

def d_axis__run_after_trip(v_axis):
    if '=run_after_trip' in v_axis:
        return v_axis['=run_after_trip']
    v_machine = v_axis["@machine"]
    t1 = d_axis__power_cut_at_stop(v_axis)
    if t1 is None:
        t2 = None
    elif t1:
        t3 = d_axis__run_without_torque(v_axis)
        t2 = t3
    else:
        t4 = d_axis__drive_stopping_distance(v_axis)
        t2 = t4
    v_axis['=run_after_trip'] = t2
    return t2

def d_axis__reference_mark(v_axis):
    if '=reference_mark' in v_axis:
        return v_axis['=reference_mark']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.homing.method')
    t2 = None if t1 is None else f_uses_home_switch(t1)
    if t2 is None:
        t3 = None
    elif t2:
        t4 = v_axis.get('controller.homing.switch.position')
        t3 = t4
    else:
        t5 = v_axis.get('controller.homing.method')
        t6 = None if t5 is None else f_uses_limit_switch(t5)
        if t6 is None:
            t7 = None
        elif t6:
            t8 = v_axis.get('controller.homing.method')
            t9 = None if t8 is None else f_searches_negative(t8)
            if t9 is None:
                t10 = None
            elif t9:
                t11 = v_axis.get('mechanics.limit_switches.negative')
                t10 = t11
            else:
                t12 = v_axis.get('mechanics.limit_switches.positive')
                t10 = t12
            t7 = t10
        else:
            t13 = v_axis.get('controller.homing.method')
            t14 = None if t13 is None else f_searches_negative(t13)
            if t14 is None:
                t15 = None
            elif t14:
                t16 = v_axis.get('mechanics.travel.min')
                t15 = t16
            else:
                t17 = v_axis.get('mechanics.travel.max')
                t15 = t17
            t7 = t15
        t3 = t7
    v_axis['=reference_mark'] = t3
    return t3

def d_axis__reference_due(v_axis):
    if '=reference_due' in v_axis:
        return v_axis['=reference_due']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.homing.method')
    t2 = None if t1 is None else f_uses_index(t1)
    t3 = None if t2 is None else not t2
    if t3 is None:
        t4 = None
    elif t3:
        t5 = d_axis__reference_mark(v_axis)
        t4 = t5
    else:
        t6 = v_axis.get('controller.homing.method')
        t7 = None if t6 is None else f_approaches_negative(t6)
        if t7 is None:
            t8 = None
        elif t7:
            t9 = d_axis__reference_mark(v_axis)
            t10 = v_axis.get('controller.homing.index_after_switch')
            t11 = d_axis__units_per_encoder_rev(v_axis)
            t12 = None if t10 is None or t11 is None else t10 * t11
            t13 = None if t9 is None or t12 is None else t9 - t12
            t8 = t13
        else:
            t14 = d_axis__reference_mark(v_axis)
            t15 = v_axis.get('controller.homing.index_after_switch')
            t16 = d_axis__units_per_encoder_rev(v_axis)
            t17 = None if t15 is None or t16 is None else t15 * t16
            t18 = None if t14 is None or t17 is None else t14 + t17
            t8 = t18
        t4 = t8
    v_axis['=reference_due'] = t4
    return t4

def d_axis__stays_put_in_homing(v_axis):
    if '=stays_put_in_homing' in v_axis:
        return v_axis['=stays_put_in_homing']
    v_machine = v_axis["@machine"]
    t2 = v_axis.get('controller.homing')
    t3 = None if t2 is None else t2 is NONE
    t1 = t3
    if t1 is not True:
        t4 = v_axis.get('controller.homing.method')
        t5 = None if t4 is None else f_sets_current_position(t4)
        if t1 is None:
            t1 = True if t5 is True else None
        else:
            t1 = t5
    v_axis['=stays_put_in_homing'] = t1
    return t1

def d_axis__reference_is_on_drawing(v_axis):
    if '=reference_is_on_drawing' in v_axis:
        return v_axis['=reference_is_on_drawing']
    v_machine = v_axis["@machine"]
    t5 = d_axis__homes_by_method(v_axis)
    t4 = t5
    if t4 is not False:
        t6 = v_axis.get('controller.type')
        t7 = None if t6 is None else t6 == 'linear'
        if t4 is None:
            t4 = False if t7 is False else None
        else:
            t4 = t7
    t3 = t4
    if t3 is not False:
        t8 = v_axis.get('mechanics.travel')
        t9 = None if t8 is None else t8 is NONE
        t10 = None if t9 is None else not t9
        if t3 is None:
            t3 = False if t10 is False else None
        else:
            t3 = t10
    t2 = t3
    if t2 is not False:
        t14 = v_axis.get('controller.homing.method')
        t15 = None if t14 is None else f_uses_home_switch(t14)
        t13 = t15
        if t13 is not False:
            t16 = v_axis.get('controller.homing.switch')
            t17 = None if t16 is None else t16 is NONE
            t18 = None if t17 is None else not t17
            if t13 is None:
                t13 = False if t18 is False else None
            else:
                t13 = t18
        t12 = t13
        if t12 is not True:
            t20 = v_axis.get('controller.homing.method')
            t21 = None if t20 is None else f_uses_limit_switch(t20)
            t19 = t21
            if t19 is not False:
                t22 = v_axis.get('mechanics.limit_switches')
                t23 = None if t22 is None else t22 is NONE
                t24 = None if t23 is None else not t23
                if t19 is None:
                    t19 = False if t24 is False else None
                else:
                    t19 = t24
            if t12 is None:
                t12 = True if t19 is True else None
            else:
                t12 = t19
        t11 = t12
        if t11 is not True:
            t26 = v_axis.get('controller.homing.method')
            t27 = None if t26 is None else f_uses_hard_stop(t26)
            t25 = t27
            if t25 is not False:
                t28 = v_axis.get('controller.homing.method')
                t29 = None if t28 is None else f_uses_index(t28)
                t30 = None if t29 is None else not t29
                if t25 is None:
                    t25 = False if t30 is False else None
                else:
                    t25 = t30
            if t11 is None:
                t11 = True if t25 is True else None
            else:
                t11 = t25
        if t2 is None:
            t2 = False if t11 is False else None
        else:
            t2 = t11
    t1 = t2
    if t1 is not False:
        t32 = d_axis__encoder_is_linear(v_axis)
        t31 = t32
        if t31 is not False:
            t33 = v_axis.get('controller.homing.method')
            t34 = None if t33 is None else f_uses_index(t33)
            if t31 is None:
                t31 = False if t34 is False else None
            else:
                t31 = t34
        t35 = None if t31 is None else not t31
        if t1 is None:
            t1 = False if t35 is False else None
        else:
            t1 = t35
    v_axis['=reference_is_on_drawing'] = t1
    return t1

def d_axis__reference_shift(v_axis):
    if '=reference_shift' in v_axis:
        return v_axis['=reference_shift']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.homing.reference_position')
    t2 = d_axis__reference_due(v_axis)
    t3 = None if t1 is None or t2 is None else t1 - t2
    v_axis['=reference_shift'] = t3
    return t3

def d_axis__reference_tolerance(v_axis):
    if '=reference_tolerance' in v_axis:
        return v_axis['=reference_tolerance']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('@s:reference_placement', Fraction(1, 100))
    t2 = d_axis__travel_span(v_axis)
    t3 = None if t1 is None or t2 is None else t1 * t2
    v_axis['=reference_tolerance'] = t3
    return t3

def d_axis__other_end(v_axis):
    if '=other_end' in v_axis:
        return v_axis['=other_end']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.homing.method')
    t2 = None if t1 is None else f_uses_limit_switch(t1)
    if t2 is None:
        t3 = None
    elif t2:
        t4 = v_axis.get('controller.homing.method')
        t5 = None if t4 is None else f_searches_negative(t4)
        if t5 is None:
            t6 = None
        elif t5:
            t7 = v_axis.get('mechanics.limit_switches.positive')
            t6 = t7
        else:
            t8 = v_axis.get('mechanics.limit_switches.negative')
            t6 = t8
        t3 = t6
    else:
        t9 = v_axis.get('controller.homing.method')
        t10 = None if t9 is None else f_searches_negative(t9)
        if t10 is None:
            t11 = None
        elif t10:
            t12 = v_axis.get('mechanics.travel.max')
            t11 = t12
        else:
            t13 = v_axis.get('mechanics.travel.min')
            t11 = t13
        t3 = t11
    v_axis['=other_end'] = t3
    return t3

def d_axis__reference_has_other_sign(v_axis):
    if '=reference_has_other_sign' in v_axis:
        return v_axis['=reference_has_other_sign']
    v_machine = v_axis["@machine"]
    t2 = d_axis__reference_shift(v_axis)
    t3 = None if t2 is None else f_absolute(t2)
    t4 = d_axis__reference_tolerance(v_axis)
    t5 = None if t3 is None or t4 is None else t3 > t4
    t1 = t5
    if t1 is not False:
        t6 = v_axis.get('controller.homing.reference_position')
        t7 = d_axis__reference_due(v_axis)
        t8 = None if t6 is None or t7 is None else t6 + t7
        t9 = None if t8 is None else f_absolute(t8)
        t10 = None if t9 is None else 20 * t9
        t11 = d_axis__reference_shift(v_axis)
        t12 = None if t11 is None else f_absolute(t11)
        t13 = None if t10 is None or t12 is None else t10 <= t12
        if t1 is None:
            t1 = False if t13 is False else None
        else:
            t1 = t13
    v_axis['=reference_has_other_sign'] = t1
    return t1

def d_axis__reference_is_of_other_end(v_axis):
    if '=reference_is_of_other_end' in v_axis:
        return v_axis['=reference_is_of_other_end']
    v_machine = v_axis["@machine"]
    t2 = v_axis.get('controller.homing.method')
    t3 = None if t2 is None else f_uses_home_switch(t2)
    t4 = None if t3 is None else not t3
    t1 = t4
    if t1 is not False:
        t5 = v_axis.get('controller.homing.reference_position')
        t6 = d_axis__other_end(v_axis)
        t7 = None if t5 is None or t6 is None else t5 - t6
        t8 = None if t7 is None else f_absolute(t7)
        t9 = v_axis.get('controller.homing.reference_position')
        t10 = d_axis__reference_mark(v_axis)
        t11 = None if t9 is None or t10 is None else t9 - t10
        t12 = None if t11 is None else f_absolute(t11)
        t13 = None if t8 is None or t12 is None else t8 < t12
        if t1 is None:
            t1 = False if t13 is False else None
        else:
            t1 = t13
    v_axis['=reference_is_of_other_end'] = t1
    return t1

def d_axis__reference_is_misplaced(v_axis):
    if '=reference_is_misplaced' in v_axis:
        return v_axis['=reference_is_misplaced']
    v_machine = v_axis["@machine"]
    t2 = d_axis__reference_is_on_drawing(v_axis)
    t1 = t2
    if t1 is not False:
        t4 = d_axis__reference_has_other_sign(v_axis)
        t3 = t4
        if t3 is not True:
            t5 = d_axis__reference_is_of_other_end(v_axis)
            if t3 is None:
                t3 = True if t5 is True else None
            else:
                t3 = t5
        if t1 is None:
            t1 = False if t3 is False else None
        else:
            t1 = t3
    v_axis['=reference_is_misplaced'] = t1
    return t1

def d_axis__reference_slack(v_axis):
    if '=reference_slack' in v_axis:
        return v_axis['=reference_slack']
    v_machine = v_axis["@machine"]
    t3 = v_axis.get('controller.homing.method')
    t4 = None if t3 is None else f_uses_home_switch(t3)
    t2 = t4
    if t2 is not True:
        t5 = v_axis.get('controller.homing.method')
        t6 = None if t5 is None else f_uses_limit_switch(t5)
        if t2 is None:
            t2 = True if t6 is True else None
        else:
            t2 = t6
    t1 = t2
    if t1 is not True:
        t7 = v_axis.get('controller.homing.method')
        t8 = None if t7 is None else f_uses_hard_stop(t7)
        if t1 is None:
            t1 = True if t8 is True else None
        else:
            t1 = t8
    if t1 is None:
        t9 = None
    elif t1:
        t10 = d_axis__reference_tolerance(v_axis)
        t9 = t10
    else:
        t11 = d_axis__reference_tolerance(v_axis)
        t12 = None if t11 is None else t11 * 0
        t9 = t12
    v_axis['=reference_slack'] = t9
    return t9

def d_axis__reference_is_within_travel(v_axis):
    if '=reference_is_within_travel' in v_axis:
        return v_axis['=reference_is_within_travel']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.homing.reference_position')
    t2 = v_axis.get('mechanics.travel.min')
    t3 = d_axis__reference_slack(v_axis)
    t4 = None if t2 is None or t3 is None else t2 - t3
    t5 = v_axis.get('mechanics.travel.max')
    t6 = d_axis__reference_slack(v_axis)
    t7 = None if t5 is None or t6 is None else t5 + t6
    t8 = None if t1 is None or t4 is None or t7 is None else between(t1, t4, t7)
    v_axis['=reference_is_within_travel'] = t8
    return t8

def d_axis__direction_fits_method(v_axis):
    if '=direction_fits_method' in v_axis:
        return v_axis['=direction_fits_method']
    v_machine = v_axis["@machine"]
    t2 = v_axis.get('controller.homing.direction')
    t3 = None if t2 is None else t2 == 'negative'
    t4 = v_axis.get('controller.homing.method')
    t5 = None if t4 is None else f_searches_negative(t4)
    t6 = None if t3 is None or t5 is None else t3 == t5
    t1 = t6
    if t1 is None and not ('#disputed' in v_axis and disputed(v_axis, ('controller.homing.direction', 'controller.homing.method'))):
        t1 = True
    v_axis['=direction_fits_method'] = t1
    return t1

def d_axis__homes(v_axis):
    if '=homes' in v_axis:
        return v_axis['=homes']
    v_machine = v_axis["@machine"]
    t2 = v_axis.get('controller.homing')
    t3 = None if t2 is None else t2 is NONE
    t4 = None if t3 is None else not t3
    t1 = t4
    if t1 is not False:
        t5 = v_axis.get('controller.homing.method')
        t6 = None if t5 is None else t5 == 0
        t7 = None if t6 is None else not t6
        if t1 is None:
            t1 = False if t7 is False else None
        else:
            t1 = t7
    v_axis['=homes'] = t1
    return t1

def d_axis__homes_by_method(v_axis):
    if '=homes_by_method' in v_axis:
        return v_axis['=homes_by_method']
    v_machine = v_axis["@machine"]
    t3 = d_axis__homes(v_axis)
    t2 = t3
    if t2 is not False:
        t4 = v_axis.get('controller.homing.method')
        t5 = None if t4 is None else f_is_reserved(t4)
        t6 = None if t5 is None else not t5
        if t2 is None:
            t2 = False if t6 is False else None
        else:
            t2 = t6
    t1 = t2
    if t1 is not False:
        t7 = v_axis.get('controller.homing.method')
        t8 = None if t7 is None else f_is_makers_own(t7)
        t9 = None if t8 is None else not t8
        if t1 is None:
            t1 = False if t9 is False else None
        else:
            t1 = t9
    v_axis['=homes_by_method'] = t1
    return t1

def d_axis__input_delay(v_axis):
    if '=input_delay' in v_axis:
        return v_axis['=input_delay']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('drive.input_filter')
    t2 = v_axis.get('drive.input_scan')
    t3 = None if t1 is None or t2 is None else t1 + t2
    v_axis['=input_delay'] = t3
    return t3

def d_axis__search_overrun(v_axis):
    if '=search_overrun' in v_axis:
        return v_axis['=search_overrun']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.homing.search_speed')
    t2 = v_axis.get('controller.homing.acceleration')
    t3 = d_axis__input_delay(v_axis)
    t4 = None if t1 is None or t2 is None or t3 is None else f_stopping_distance(t1, t2, t3)
    v_axis['=search_overrun'] = t4
    return t4

def d_axis__edge_scatter(v_axis):
    if '=edge_scatter' in v_axis:
        return v_axis['=edge_scatter']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.homing.method')
    t2 = None if t1 is None else f_uses_home_switch(t1)
    if t2 is None:
        t3 = None
    elif t2:
        t4 = v_axis.get('controller.homing.switch.scatter')
        t3 = t4
    else:
        t5 = v_axis.get('mechanics.limit_switches.scatter')
        t3 = t5
    v_axis['=edge_scatter'] = t3
    return t3

def d_axis__edge_spread(v_axis):
    if '=edge_spread' in v_axis:
        return v_axis['=edge_spread']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.homing.creep_speed')
    t2 = v_axis.get('drive.input_scan')
    t3 = v_axis.get('controller.homing.latch_jitter')
    t4 = None if t2 is None or t3 is None else t2 + t3
    t5 = None if t1 is None or t4 is None else t1 * t4
    t6 = d_axis__edge_scatter(v_axis)
    t7 = None if t5 is None or t6 is None else t5 + t6
    v_axis['=edge_spread'] = t7
    return t7

def d_axis__index_angle(v_axis):
    if '=index_angle' in v_axis:
        return v_axis['=index_angle']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.homing.index_after_switch')
    t2 = None if t1 is None else f_remainder(t1, 1)
    v_axis['=index_angle'] = t2
    return t2

def d_axis__index_distance(v_axis):
    if '=index_distance' in v_axis:
        return v_axis['=index_distance']
    v_machine = v_axis["@machine"]
    t1 = d_axis__index_angle(v_axis)
    t2 = d_axis__index_angle(v_axis)
    t3 = None if t2 is None else 1 - t2
    t4 = None if t1 is None or t3 is None else f_smaller(t1, t3)
    t5 = d_axis__units_per_encoder_rev(v_axis)
    t6 = None if t4 is None or t5 is None else t4 * t5
    v_axis['=index_distance'] = t6
    return t6

def d_axis__search_edge(v_axis):
    if '=search_edge' in v_axis:
        return v_axis['=search_edge']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.homing.method')
    t2 = None if t1 is None else f_uses_limit_switch(t1)
    t3 = None if t2 is None else not t2
    if t3 is None:
        t4 = None
    elif t3:
        t5 = v_axis.get('controller.homing.switch.position')
        t4 = t5
    else:
        t6 = v_axis.get('controller.homing.method')
        t7 = None if t6 is None else f_searches_negative(t6)
        if t7 is None:
            t8 = None
        elif t7:
            t9 = v_axis.get('mechanics.limit_switches.negative')
            t8 = t9
        else:
            t10 = v_axis.get('mechanics.limit_switches.positive')
            t8 = t10
        t4 = t8
    v_axis['=search_edge'] = t4
    return t4

def d_axis__search_room(v_axis):
    if '=search_room' in v_axis:
        return v_axis['=search_room']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.homing.method')
    t2 = None if t1 is None else f_searches_negative(t1)
    if t2 is None:
        t3 = None
    elif t2:
        t4 = d_axis__search_edge(v_axis)
        t5 = v_axis.get('mechanics.travel.min')
        t6 = None if t4 is None or t5 is None else t4 - t5
        t3 = t6
    else:
        t7 = v_axis.get('mechanics.travel.max')
        t8 = d_axis__search_edge(v_axis)
        t9 = None if t7 is None or t8 is None else t7 - t8
        t3 = t9
    v_axis['=search_room'] = t3
    return t3

def d_axis__home_switch_between_limits(v_axis):
    if '=home_switch_between_limits' in v_axis:
        return v_axis['=home_switch_between_limits']
    v_machine = v_axis["@machine"]
    t2 = v_axis.get('controller.homing.method')
    t3 = None if t2 is None else f_uses_home_switch(t2)
    t4 = None if t3 is None else not t3
    t1 = t4
    if t1 is not True:
        t7 = v_axis.get('controller.homing.switch.position')
        t8 = v_axis.get('mechanics.limit_switches.negative')
        t9 = None if t7 is None or t8 is None else t7 > t8
        t6 = t9
        if t6 is not False:
            t10 = v_axis.get('controller.homing.switch.position')
            t11 = v_axis.get('mechanics.limit_switches.positive')
            t12 = None if t10 is None or t11 is None else t10 < t11
            if t6 is None:
                t6 = False if t12 is False else None
            else:
                t6 = t12
        t5 = t6
        if t5 is None and not ('#disputed' in v_axis and disputed(v_axis, ('controller.homing.switch.position', 'mechanics.limit_switches.negative', 'mechanics.limit_switches.positive'))):
            t5 = True
        if t1 is None:
            t1 = True if t5 is True else None
        else:
            t1 = t5
    v_axis['=home_switch_between_limits'] = t1
    return t1

def d_axis__method_without_index(v_axis):
    if '=method_without_index' in v_axis:
        return v_axis['=method_without_index']
    v_machine = v_axis["@machine"]
    t3 = v_axis.get('controller.homing.method')
    t4 = None if t3 is None else f_uses_home_switch(t3)
    t2 = t4
    if t2 is not True:
        t5 = v_axis.get('controller.homing.method')
        t6 = None if t5 is None else f_uses_limit_switch(t5)
        if t2 is None:
            t2 = True if t6 is True else None
        else:
            t2 = t6
    t1 = t2
    if t1 is not True:
        t7 = v_axis.get('controller.homing.method')
        t8 = None if t7 is None else f_uses_hard_stop(t7)
        if t1 is None:
            t1 = True if t8 is True else None
        else:
            t1 = t8
    if t1 is None:
        t9 = None
    elif t1:
        t9 = 'the method for the same switch or stop without index (17 to 30 are 1 to 14 without it)'
    else:
        t9 = 'a method that ends at a switch (the next index pulse has none without index)'
    v_axis['=method_without_index'] = t9
    return t9

def d_axis__moves_in_homing(v_axis):
    if '=moves_in_homing' in v_axis:
        return v_axis['=moves_in_homing']
    v_machine = v_axis["@machine"]
    t2 = d_axis__homes_by_method(v_axis)
    t1 = t2
    if t1 is not False:
        t3 = v_axis.get('controller.homing.method')
        t4 = None if t3 is None else f_sets_current_position(t3)
        t5 = None if t4 is None else not t4
        if t1 is None:
            t1 = False if t5 is False else None
        else:
            t1 = t5
    v_axis['=moves_in_homing'] = t1
    return t1

def d_axis__speed_in_doubt(v_axis):
    if '=speed_in_doubt' in v_axis:
        return v_axis['=speed_in_doubt']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('motion')
    t2 = None if t1 is None else t1 == 'linear'
    if t2 is None:
        t3 = None
    elif t2:
        t4 = v_axis.get('@s:reduced_speed', 250)
        t3 = t4
    else:
        t5 = v_axis.get('@s:reduced_speed_rotary', Fraction(1, 12))
        t3 = t5
    v_axis['=speed_in_doubt'] = t3
    return t3

def d_axis__speed_in_doubt_is_from(v_axis):
    if '=speed_in_doubt_is_from' in v_axis:
        return v_axis['=speed_in_doubt_is_from']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('motion')
    t2 = None if t1 is None else t1 == 'linear'
    if t2 is None:
        t3 = None
    elif t2:
        t3 = 'set for linear axes, by default the reduced speed of ISO 10218-1, which is for robots'
    else:
        t3 = 'set for rotary axes, by no standard; what counts is the speed at the furthest point'
    v_axis['=speed_in_doubt_is_from'] = t3
    return t3

def d_axis__encoder_tells_its_serial(v_axis):
    if '=encoder_tells_its_serial' in v_axis:
        return v_axis['=encoder_tells_its_serial']
    v_machine = v_axis["@machine"]
    t2 = v_axis.get('encoder.kind')
    t3 = None if t2 is None else t2 == 'incremental'
    t4 = None if t3 is None else not t3
    t1 = t4
    if t1 is not True:
        t6 = v_axis.get('storage.motor_data')
        t7 = None if t6 is None else t6 == 'encoder'
        t5 = t7
        if t5 is None and not ('#disputed' in v_axis and disputed(v_axis, ('storage.motor_data',))):
            t5 = False
        if t1 is None:
            t1 = True if t5 is True else None
        else:
            t1 = t5
    v_axis['=encoder_tells_its_serial'] = t1
    return t1

def d_axis__homed_anew_at_power_on(v_axis):
    if '=homed_anew_at_power_on' in v_axis:
        return v_axis['=homed_anew_at_power_on']
    v_machine = v_axis["@machine"]
    t2 = d_axis__forgets_position(v_axis)
    t1 = t2
    if t1 is not False:
        t3 = v_axis.get('controller.homed_flag_retained')
        t4 = None if t3 is None else not t3
        if t1 is None:
            t1 = False if t4 is False else None
        else:
            t1 = t4
    v_axis['=homed_anew_at_power_on'] = t1
    return t1

def d_axis_interlocks__skips_homing(v_lock):
    if '=skips_homing' in v_lock:
        return v_lock['=skips_homing']
    t3 = v_lock.get('released_by')
    t4 = v_lock.get('released_by#partial')
    if t3 is None:
        t5 = None
    elif 'alarm_reset' in t3:
        t5 = True
    else:
        t5 = None if t4 else False
    t2 = t5
    if t2 is not True:
        t6 = v_lock.get('released_by')
        t7 = v_lock.get('released_by#partial')
        if t6 is None:
            t8 = None
        elif 'power_cycle' in t6:
            t8 = True
        else:
            t8 = None if t7 else False
        if t2 is None:
            t2 = True if t8 is True else None
        else:
            t2 = t8
    t1 = t2
    if t1 is not True:
        t9 = v_lock.get('released_by')
        t10 = v_lock.get('released_by#partial')
        if t9 is None:
            t11 = None
        elif 'acknowledgement' in t9:
            t11 = True
        else:
            t11 = None if t10 else False
        if t1 is None:
            t1 = True if t11 is True else None
        else:
            t1 = t11
    v_lock['=skips_homing'] = t1
    return t1

def d_axis_interlocks__heeds_homing(v_lock):
    if '=heeds_homing' in v_lock:
        return v_lock['=heeds_homing']
    t3 = v_lock.get('released_by')
    t4 = v_lock.get('released_by#partial')
    if t3 is None:
        t5 = None
    elif 'homing' in t3:
        t5 = True
    else:
        t5 = None if t4 else False
    t2 = t5
    if t2 is not True:
        t6 = v_lock.get('released_by')
        t7 = v_lock.get('released_by#partial')
        if t6 is None:
            t8 = None
        elif 'calibration' in t6:
            t8 = True
        else:
            t8 = None if t7 else False
        if t2 is None:
            t2 = True if t8 is True else None
        else:
            t2 = t8
    t1 = t2
    if t1 is not True:
        t9 = v_lock.get('released_by')
        t10 = v_lock.get('released_by#partial')
        if t9 is None:
            t11 = None
        elif 'homing_and_calibration' in t9:
            t11 = True
        else:
            t11 = None if t10 else False
        if t1 is None:
            t1 = True if t11 is True else None
        else:
            t1 = t11
    v_lock['=heeds_homing'] = t1
    return t1

def d_axis__allowed_motor_speed(v_axis):
    if '=allowed_motor_speed' in v_axis:
        return v_axis['=allowed_motor_speed']
    v_machine = v_axis["@machine"]
    t3 = v_axis.get('motor.max_speed')
    t4 = v_axis.get('drive.max_speed')
    t5 = None if t3 is None or t4 is None else f_larger(t3, t4)
    t2 = t5
    if t2 is None and not ('#disputed' in v_axis and disputed(v_axis, ('motor.max_speed', 'drive.max_speed'))):
        t6 = v_axis.get('drive.max_speed')
        t2 = t6
    t1 = t2
    if t1 is None and not ('#disputed' in v_axis and disputed(v_axis, ('motor.max_speed', 'drive.max_speed'))):
        t7 = v_axis.get('motor.max_speed')
        t1 = t7
    v_axis['=allowed_motor_speed'] = t1
    return t1

def d_axis__overspeed(v_axis):
    if '=overspeed' in v_axis:
        return v_axis['=overspeed']
    v_machine = v_axis["@machine"]
    t1 = d_axis__top_motor_speed(v_axis)
    t2 = d_axis__allowed_motor_speed(v_axis)
    t3 = None if t1 is None or t2 is None else div(t1, t2)
    v_axis['=overspeed'] = t3
    return t3

def d_axis__speed_in_wrong_unit(v_axis):
    if '=speed_in_wrong_unit' in v_axis:
        return v_axis['=speed_in_wrong_unit']
    v_machine = v_axis["@machine"]
    t4 = d_axis__has_driving_shaft(v_axis)
    t3 = t4
    if t3 is not False:
        t5 = d_axis__ratios_are_settled(v_axis)
        if t3 is None:
            t3 = False if t5 is False else None
        else:
            t3 = t5
    t2 = t3
    if t2 is not False:
        t6 = d_axis__overspeed(v_axis)
        t7 = v_axis.get('@s:gross_overspeed', Fraction(5, 2))
        t8 = None if t6 is None or t7 is None else t6 > t7
        if t2 is None:
            t2 = False if t8 is False else None
        else:
            t2 = t8
    t1 = t2
    if t1 is None and not ('#disputed' in v_axis and disputed(v_axis, ('motion', 'mechanics.final.kind', 'encoder.form', 'mechanics.stages', 'mechanics.stages[].motor_turns_per_load_turn', 'mechanics.stages[].load_side_teeth', 'mechanics.stages[].motor_side_teeth', 'encoder.turns_per_driving_shaft_turn', 'mechanics.final.starts', 'mechanics.final.pitch', 'mechanics.final.lead', 'mechanics.stated_ratio', 'controller.max_velocity', 'mechanics.final.teeth', 'mechanics.final.helix', 'mechanics.final.module', 'mechanics.final.diameter', 'motor.max_speed', 'drive.max_speed'))):
        t1 = False
    v_axis['=speed_in_wrong_unit'] = t1
    return t1

def d_axis__likeliest_unit_slip(v_axis):
    if '=likeliest_unit_slip' in v_axis:
        return v_axis['=likeliest_unit_slip']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('motion')
    t2 = None if t1 is None else t1 == 'rotary'
    if t2 is None:
        t3 = None
    elif t2:
        t4 = d_axis__overspeed(v_axis)
        t5 = None if t4 is None else t4 <= 6
        if t5 is None:
            t6 = None
        elif t5:
            t6 = 'deg/s stated as rpm (a factor of 6)'
        else:
            t7 = d_axis__overspeed(v_axis)
            t8 = None if t7 is None else t7 <= 60
            if t8 is None:
                t9 = None
            elif t8:
                t9 = 'deg/s stated as rad/s (57.3), or per minute as per second (60)'
            else:
                t9 = 'deg/s stated as rev/s (a factor of 360)'
            t6 = t9
        t3 = t6
    else:
        t10 = d_axis__overspeed(v_axis)
        t11 = div(50, 3)
        t12 = None if t10 is None or t11 is None else t10 <= t11
        if t12 is None:
            t13 = None
        elif t12:
            t13 = 'mm/s stated as m/min (a factor of 16.7)'
        else:
            t14 = d_axis__overspeed(v_axis)
            t15 = None if t14 is None else t14 <= Fraction(127, 5)
            if t15 is None:
                t16 = None
            elif t15:
                t16 = 'mm/s stated as in/s (a factor of 25.4)'
            else:
                t17 = d_axis__overspeed(v_axis)
                t18 = None if t17 is None else t17 <= 60
                if t18 is None:
                    t19 = None
                elif t18:
                    t19 = 'per minute stated as per second (a factor of 60)'
                else:
                    t19 = 'mm/s stated as m/s (a factor of 1000)'
                t16 = t19
            t13 = t16
        t3 = t13
    v_axis['=likeliest_unit_slip'] = t3
    return t3

def d_axis__lag(v_axis):
    if '=lag' in v_axis:
        return v_axis['=lag']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.max_velocity')
    t2 = v_axis.get('controller.velocity_gain')
    t3 = None if t1 is None or t2 is None else div(t1, t2)
    t4 = v_axis.get('controller.velocity_feedforward')
    t5 = None if t4 is None else 1 - t4
    t6 = None if t5 is None else f_absolute(t5)
    t7 = None if t3 is None or t6 is None else t3 * t6
    v_axis['=lag'] = t7
    return t7

def d_axis__ramp_time(v_axis):
    if '=ramp_time' in v_axis:
        return v_axis['=ramp_time']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.max_velocity')
    t2 = v_axis.get('controller.max_acceleration')
    t3 = None if t1 is None or t2 is None else div(t1, t2)
    v_axis['=ramp_time'] = t3
    return t3

def d_axis__jerk_time(v_axis):
    if '=jerk_time' in v_axis:
        return v_axis['=jerk_time']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.max_acceleration')
    t2 = v_axis.get('controller.max_jerk')
    if t2 is NONE:
        t2 = None
    t3 = None if t1 is None or t2 is None else div(t1, t2)
    v_axis['=jerk_time'] = t3
    return t3

def d_axis__deviation_before_reaction(v_axis):
    if '=deviation_before_reaction' in v_axis:
        return v_axis['=deviation_before_reaction']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('drive.following_error_window')
    t2 = v_axis.get('controller.max_velocity')
    t3 = v_axis.get('drive.following_error_timeout')
    t4 = None if t2 is None or t3 is None else t2 * t3
    t5 = None if t1 is None or t4 is None else t1 + t4
    v_axis['=deviation_before_reaction'] = t5
    return t5

def d_axis__network_number(v_axis):
    if '=network_number' in v_axis:
        return v_axis['=network_number']
    v_machine = v_axis["@machine"]
    t2 = v_axis.get('drive.network')
    t1 = t2
    if t1 is None and not ('#disputed' in v_axis and disputed(v_axis, ('drive.network',))):
        t1 = 1
    v_axis['=network_number'] = t1
    return t1

def d_machine_network_nodes__network_number(v_node):
    if '=network_number' in v_node:
        return v_node['=network_number']
    t2 = v_node.get('network')
    t1 = t2
    if t1 is None and not ('#disputed' in v_node and disputed(v_node, ('network',))):
        t1 = 1
    v_node['=network_number'] = t1
    return t1

def d_machine__addresses_are_apart(v_machine):
    if '=addresses_are_apart' in v_machine:
        return v_machine['=addresses_are_apart']
    t4 = v_machine.get('axes')
    t5 = v_machine.get('axes#partial')
    if t4 is None:
        t6 = None
    else:
        t6 = None if t5 else True
        t7 = set()
        for v_a in metered(t4, 8):
            t9 = v_a.get('drive.node')
            t10 = None if t9 is None else t9 is NONE
            t11 = None if t10 is None else not t10
            t8 = t11
            if t8 is not False:
                t12 = d_axis__network_number(v_a)
                t13 = None if t12 is None else eq(t12, 1)
                if t8 is None:
                    t8 = False if t13 is False else None
                else:
                    t8 = t13
            if t8 is False:
                continue
            t15 = v_a.get('drive.node')
            if t15 is NONE:
                t15 = None
            t14 = distinct(t15)
            if t14 is None or t8 is None:
                t6 = None
                continue
            if t14 in t7:
                t6 = False
                break
            t7.add(t14)
    t3 = t6
    if t3 is not False:
        t16 = v_machine.get('axes')
        t17 = v_machine.get('axes#partial')
        if t16 is None:
            t18 = None
        else:
            t18 = None if t17 else True
            t19 = set()
            for v_a in metered(t16, 8):
                t21 = v_a.get('drive.node')
                t22 = None if t21 is None else t21 is NONE
                t23 = None if t22 is None else not t22
                t20 = t23
                if t20 is not False:
                    t24 = d_axis__network_number(v_a)
                    t25 = None if t24 is None else eq(t24, 2)
                    if t20 is None:
                        t20 = False if t25 is False else None
                    else:
                        t20 = t25
                if t20 is False:
                    continue
                t27 = v_a.get('drive.node')
                if t27 is NONE:
                    t27 = None
                t26 = distinct(t27)
                if t26 is None or t20 is None:
                    t18 = None
                    continue
                if t26 in t19:
                    t18 = False
                    break
                t19.add(t26)
        if t3 is None:
            t3 = False if t18 is False else None
        else:
            t3 = t18
    t2 = t3
    if t2 is not False:
        t28 = v_machine.get('axes')
        t29 = v_machine.get('axes#partial')
        if t28 is None:
            t30 = None
        else:
            t30 = None if t29 else True
            t31 = set()
            for v_a in metered(t28, 8):
                t33 = v_a.get('drive.node')
                t34 = None if t33 is None else t33 is NONE
                t35 = None if t34 is None else not t34
                t32 = t35
                if t32 is not False:
                    t36 = d_axis__network_number(v_a)
                    t37 = None if t36 is None else eq(t36, 3)
                    if t32 is None:
                        t32 = False if t37 is False else None
                    else:
                        t32 = t37
                if t32 is False:
                    continue
                t39 = v_a.get('drive.node')
                if t39 is NONE:
                    t39 = None
                t38 = distinct(t39)
                if t38 is None or t32 is None:
                    t30 = None
                    continue
                if t38 in t31:
                    t30 = False
                    break
                t31.add(t38)
        if t2 is None:
            t2 = False if t30 is False else None
        else:
            t2 = t30
    t1 = t2
    if t1 is not False:
        t40 = v_machine.get('axes')
        t41 = v_machine.get('axes#partial')
        if t40 is None:
            t42 = None
        else:
            t42 = None if t41 else True
            t43 = set()
            for v_a in metered(t40, 8):
                t45 = v_a.get('drive.node')
                t46 = None if t45 is None else t45 is NONE
                t47 = None if t46 is None else not t46
                t44 = t47
                if t44 is not False:
                    t48 = d_axis__network_number(v_a)
                    t49 = None if t48 is None else eq(t48, 4)
                    if t44 is None:
                        t44 = False if t49 is False else None
                    else:
                        t44 = t49
                if t44 is False:
                    continue
                t51 = v_a.get('drive.node')
                if t51 is NONE:
                    t51 = None
                t50 = distinct(t51)
                if t50 is None or t44 is None:
                    t42 = None
                    continue
                if t50 in t43:
                    t42 = False
                    break
                t43.add(t50)
        if t1 is None:
            t1 = False if t42 is False else None
        else:
            t1 = t42
    v_machine['=addresses_are_apart'] = t1
    return t1

def d_axis__turns_need_battery(v_axis):
    if '=turns_need_battery' in v_axis:
        return v_axis['=turns_need_battery']
    v_machine = v_axis["@machine"]
    t2 = d_axis__relies_on_turn_counter(v_axis)
    t1 = t2
    if t1 is not False:
        t3 = v_axis.get('encoder.turn_counter.backup')
        t4 = None if t3 is None else t3 == 'battery'
        if t1 is None:
            t1 = False if t4 is False else None
        else:
            t1 = t4
    v_axis['=turns_need_battery'] = t1
    return t1

def d_axis__batteries(v_axis):
    if '=batteries' in v_axis:
        return v_axis['=batteries']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('encoder.turn_counter.battery')
    t2 = None if t1 is None else t1 is NONE
    if t2 is None:
        t3 = None
    elif t2:
        t3 = 0
    else:
        t4 = v_axis.get('encoder.turn_counter.battery.places')
        t5 = v_axis.get('encoder.turn_counter.battery.places#partial')
        if t4 is None:
            t6 = None
        elif 'cable' in t4:
            t6 = True
        else:
            t6 = None if t5 else False
        if t6 is None:
            t7 = None
        elif t6:
            t7 = 1
        else:
            t7 = 0
        t8 = v_axis.get('encoder.turn_counter.battery.places')
        t9 = v_axis.get('encoder.turn_counter.battery.places#partial')
        if t8 is None:
            t10 = None
        elif 'drive' in t8:
            t10 = True
        else:
            t10 = None if t9 else False
        if t10 is None:
            t11 = None
        elif t10:
            t11 = 1
        else:
            t11 = 0
        t12 = None if t7 is None or t11 is None else t7 + t11
        t13 = v_axis.get('encoder.turn_counter.battery.places')
        t14 = v_axis.get('encoder.turn_counter.battery.places#partial')
        if t13 is None:
            t15 = None
        elif 'encoder' in t13:
            t15 = True
        else:
            t15 = None if t14 else False
        if t15 is None:
            t16 = None
        elif t15:
            t16 = 1
        else:
            t16 = 0
        t17 = None if t12 is None or t16 is None else t12 + t16
        t18 = v_axis.get('encoder.turn_counter.battery.places')
        t19 = v_axis.get('encoder.turn_counter.battery.places#partial')
        if t18 is None:
            t20 = None
        elif 'cabinet' in t18:
            t20 = True
        else:
            t20 = None if t19 else False
        if t20 is None:
            t21 = None
        elif t20:
            t21 = 1
        else:
            t21 = 0
        t22 = None if t17 is None or t21 is None else t17 + t21
        t3 = t22
    v_axis['=batteries'] = t3
    return t3

def d_axis__battery_life(v_axis):
    if '=battery_life' in v_axis:
        return v_axis['=battery_life']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('encoder.turn_counter.battery.life')
    t2 = None if t1 is None else div(t1, 86400)
    t3 = None if t2 is None else t2 + Fraction(1, 2)
    t4 = None if t3 is None else f_floor(t3)
    t5 = None if t4 is None else t4 * 86400
    v_axis['=battery_life'] = t5
    return t5

def d_axis__battery_ends_on(v_axis):
    if '=battery_ends_on' in v_axis:
        return v_axis['=battery_ends_on']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('encoder.turn_counter.battery.fitted_on')
    t2 = d_axis__battery_life(v_axis)
    t3 = None if t1 is None or t2 is None else t1 + t2
    v_axis['=battery_ends_on'] = t3
    return t3

def d_axis__screw_speed(v_axis):
    if '=screw_speed' in v_axis:
        return v_axis['=screw_speed']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.max_velocity')
    t2 = d_axis__screw_feed(v_axis)
    t3 = None if t1 is None or t2 is None else div(t1, t2)
    v_axis['=screw_speed'] = t3
    return t3

def d_axis__critical_speed_factor(v_axis):
    if '=critical_speed_factor' in v_axis:
        return v_axis['=critical_speed_factor']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('mechanics.final.support')
    t2 = None if t1 is None else t1 == 'fixed_free'
    if t2 is None:
        t3 = None
    elif t2:
        t3 = Fraction(17, 5)
    else:
        t4 = v_axis.get('mechanics.final.support')
        t5 = None if t4 is None else t4 == 'supported_supported'
        if t5 is None:
            t6 = None
        elif t5:
            t6 = Fraction(97, 10)
        else:
            t7 = v_axis.get('mechanics.final.support')
            t8 = None if t7 is None else t7 == 'fixed_supported'
            if t8 is None:
                t9 = None
            elif t8:
                t9 = Fraction(151, 10)
            else:
                t9 = Fraction(219, 10)
            t6 = t9
        t3 = t6
    v_axis['=critical_speed_factor'] = t3
    return t3

def d_axis__critical_speed(v_axis):
    if '=critical_speed' in v_axis:
        return v_axis['=critical_speed']
    v_machine = v_axis["@machine"]
    t1 = d_axis__critical_speed_factor(v_axis)
    t2 = None if t1 is None else t1 * Fraction(500000, 3)
    t3 = None if t2 is None else t2 * 1
    t4 = v_axis.get('mechanics.final.root_diameter')
    t5 = None if t3 is None or t4 is None else t3 * t4
    t6 = v_axis.get('mechanics.final.unsupported_length')
    t7 = None if t6 is None else raised(t6, 2)
    t8 = None if t5 is None or t7 is None else div(t5, t7)
    v_axis['=critical_speed'] = t8
    return t8

def d_axis__permitted_screw_speed(v_axis):
    if '=permitted_screw_speed' in v_axis:
        return v_axis['=permitted_screw_speed']
    v_machine = v_axis["@machine"]
    t2 = v_axis.get('mechanics.final.rated_speed')
    t1 = t2
    if t1 is None and not ('#disputed' in v_axis and disputed(v_axis, ('mechanics.final.rated_speed',))):
        t3 = v_axis.get('mechanics.final.speed_index')
        t4 = None if t3 is None else t3 * Fraction(1, 60)
        t5 = None if t4 is None else t4 * 1
        t6 = v_axis.get('mechanics.final.nominal_diameter')
        t7 = None if t5 is None or t6 is None else div(t5, t6)
        t1 = t7
    v_axis['=permitted_screw_speed'] = t1
    return t1

def d_axis__buckling_factor(v_axis):
    if '=buckling_factor' in v_axis:
        return v_axis['=buckling_factor']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('mechanics.final.support')
    t2 = None if t1 is None else t1 == 'fixed_free'
    if t2 is None:
        t3 = None
    elif t2:
        t4 = div(1, 4)
        t3 = t4
    else:
        t5 = v_axis.get('mechanics.final.support')
        t6 = None if t5 is None else t5 == 'supported_supported'
        if t6 is None:
            t7 = None
        elif t6:
            t7 = 1
        else:
            t8 = v_axis.get('mechanics.final.support')
            t9 = None if t8 is None else t8 == 'fixed_supported'
            if t9 is None:
                t10 = None
            elif t9:
                t10 = 2
            else:
                t10 = 4
            t7 = t10
        t3 = t7
    v_axis['=buckling_factor'] = t3
    return t3

def d_axis__buckling_load(v_axis):
    if '=buckling_load' in v_axis:
        return v_axis['=buckling_load']
    v_machine = v_axis["@machine"]
    t1 = d_axis__buckling_factor(v_axis)
    t2 = f_circumference(1)
    t3 = None if t2 is None else raised(t2, 3)
    t4 = None if t1 is None or t3 is None else t1 * t3
    t5 = None if t4 is None else t4 * 20600000000
    t6 = 10 * 10
    t7 = None if t5 is None or t6 is None else div(t5, t6)
    t8 = v_axis.get('mechanics.final.root_diameter')
    t9 = None if t8 is None else raised(t8, 4)
    t10 = None if t7 is None or t9 is None else t7 * t9
    t11 = v_axis.get('mechanics.final.unsupported_length')
    t12 = None if t11 is None else raised(t11, 2)
    t13 = None if t12 is None else 64 * t12
    t14 = None if t10 is None or t13 is None else div(t10, t13)
    v_axis['=buckling_load'] = t14
    return t14

def d_axis__torque_less_losses(v_axis):
    if '=torque_less_losses' in v_axis:
        return v_axis['=torque_less_losses']
    v_machine = v_axis["@machine"]
    t1 = d_axis__available_torque(v_axis)
    t2 = v_axis.get('mechanics.efficiency')
    t3 = None if t1 is None or t2 is None else t1 * t2
    v_axis['=torque_less_losses'] = t3
    return t3

def d_axis__weight_share(v_axis):
    if '=weight_share' in v_axis:
        return v_axis['=weight_share']
    v_machine = v_axis["@machine"]
    t2 = v_axis.get('mechanics.inclination')
    t3 = None if t2 is None else f_sine(t2)
    t1 = t3
    if t1 is None and not ('#disputed' in v_axis and disputed(v_axis, ('mechanics.inclination',))):
        t4 = v_axis.get('mechanics.vertical')
        if t4 is None:
            t5 = None
        elif t4:
            t5 = 1
        else:
            t5 = 0
        t1 = t5
    t6 = None if t1 is None else f_absolute(t1)
    v_axis['=weight_share'] = t6
    return t6

def d_axis__gravity_force(v_axis):
    if '=gravity_force' in v_axis:
        return v_axis['=gravity_force']
    v_machine = v_axis["@machine"]
    t1 = d_axis__weight_share(v_axis)
    t2 = None if t1 is None else t1 > 0
    if t2 is None:
        t3 = None
    elif t2:
        t4 = v_axis.get('mechanics.load_mass')
        t5 = None if t4 is None else t4 * Fraction(196133, 20)
        t6 = d_axis__unbalanced_share(v_axis)
        t7 = None if t6 is None else f_absolute(t6)
        t8 = None if t5 is None or t7 is None else t5 * t7
        t9 = d_axis__weight_share(v_axis)
        t10 = None if t8 is None or t9 is None else t8 * t9
        t3 = t10
    else:
        t3 = 0
    v_axis['=gravity_force'] = t3
    return t3

def d_axis__gravity_torque(v_axis):
    if '=gravity_torque' in v_axis:
        return v_axis['=gravity_torque']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('motion')
    t2 = None if t1 is None else t1 == 'linear'
    if t2 is None:
        t3 = None
    elif t2:
        t4 = d_axis__gravity_force(v_axis)
        t5 = d_axis__units_per_motor_rev(v_axis)
        t6 = None if t4 is None or t5 is None else t4 * t5
        t3 = t6
    else:
        t7 = v_axis.get('mechanics.vertical')
        if t7 is None:
            t8 = None
        elif t7:
            t9 = v_axis.get('mechanics.unbalanced_torque')
            t8 = t9
        else:
            t11 = v_axis.get('mechanics.unbalanced_torque')
            t10 = t11
            if t10 is None and not ('#disputed' in v_axis and disputed(v_axis, ('mechanics.unbalanced_torque',))):
                t10 = 0
            t8 = t10
        t12 = d_axis__units_per_motor_rev(v_axis)
        t13 = None if t8 is None or t12 is None else t8 * t12
        t3 = t13
    v_axis['=gravity_torque'] = t3
    return t3

def d_axis__friction_at_motor(v_axis):
    if '=friction_at_motor' in v_axis:
        return v_axis['=friction_at_motor']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('motion')
    t2 = None if t1 is None else t1 == 'linear'
    if t2 is None:
        t3 = None
    elif t2:
        t4 = v_axis.get('mechanics.friction_force')
        t5 = d_axis__units_per_motor_rev(v_axis)
        t6 = None if t4 is None or t5 is None else t4 * t5
        t3 = t6
    else:
        t7 = v_axis.get('mechanics.friction_torque')
        t8 = d_axis__units_per_motor_rev(v_axis)
        t9 = None if t7 is None or t8 is None else t7 * t8
        t3 = t9
    v_axis['=friction_at_motor'] = t3
    return t3

def d_axis__load_inertia_at_motor(v_axis):
    if '=load_inertia_at_motor' in v_axis:
        return v_axis['=load_inertia_at_motor']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('motion')
    t2 = None if t1 is None else t1 == 'linear'
    if t2 is None:
        t3 = None
    elif t2:
        t4 = v_axis.get('mechanics.load_mass')
        t5 = d_axis__units_per_motor_rev(v_axis)
        t6 = None if t5 is None else raised(t5, 2)
        t7 = None if t4 is None or t6 is None else t4 * t6
        t3 = t7
    else:
        t8 = v_axis.get('mechanics.load_inertia')
        t9 = d_axis__units_per_motor_rev(v_axis)
        t10 = None if t9 is None else raised(t9, 2)
        t11 = None if t8 is None or t10 is None else t8 * t10
        t3 = t11
    v_axis['=load_inertia_at_motor'] = t3
    return t3

def d_axis__shaft_inertia(v_axis):
    if '=shaft_inertia' in v_axis:
        return v_axis['=shaft_inertia']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('motor.inertia')
    t2 = v_axis.get('mechanics.transmission_inertia')
    t3 = None if t1 is None or t2 is None else t1 + t2
    v_axis['=shaft_inertia'] = t3
    return t3

def d_axis__available_torque(v_axis):
    if '=available_torque' in v_axis:
        return v_axis['=available_torque']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('motor.peak_torque')
    t2 = v_axis.get('drive.torque_limit')
    t3 = None if t1 is None or t2 is None else f_smaller(t1, t2)
    v_axis['=available_torque'] = t3
    return t3

def d_axis__motor_acceleration(v_axis):
    if '=motor_acceleration' in v_axis:
        return v_axis['=motor_acceleration']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.max_acceleration')
    t2 = d_axis__units_per_motor_rev(v_axis)
    t3 = None if t1 is None or t2 is None else div(t1, t2)
    v_axis['=motor_acceleration'] = t3
    return t3

def d_axis__acceleration_torque(v_axis):
    if '=acceleration_torque' in v_axis:
        return v_axis['=acceleration_torque']
    v_machine = v_axis["@machine"]
    t1 = d_axis__shaft_inertia(v_axis)
    t2 = d_axis__motor_acceleration(v_axis)
    t3 = None if t1 is None or t2 is None else t1 * t2
    t4 = d_axis__load_inertia_at_motor(v_axis)
    t5 = d_axis__motor_acceleration(v_axis)
    t6 = None if t4 is None or t5 is None else t4 * t5
    t7 = d_axis__gravity_torque(v_axis)
    t8 = None if t6 is None or t7 is None else t6 + t7
    t9 = d_axis__friction_at_motor(v_axis)
    t10 = None if t8 is None or t9 is None else t8 + t9
    t11 = v_axis.get('mechanics.efficiency')
    t12 = None if t10 is None or t11 is None else div(t10, t11)
    t13 = None if t3 is None or t12 is None else t3 + t12
    v_axis['=acceleration_torque'] = t13
    return t13

def d_axis__attainable_acceleration(v_axis):
    if '=attainable_acceleration' in v_axis:
        return v_axis['=attainable_acceleration']
    v_machine = v_axis["@machine"]
    t1 = d_axis__available_torque(v_axis)
    t2 = d_axis__gravity_torque(v_axis)
    t3 = d_axis__friction_at_motor(v_axis)
    t4 = None if t2 is None or t3 is None else t2 + t3
    t5 = v_axis.get('mechanics.efficiency')
    t6 = None if t4 is None or t5 is None else div(t4, t5)
    t7 = None if t1 is None or t6 is None else t1 - t6
    t8 = d_axis__shaft_inertia(v_axis)
    t9 = d_axis__load_inertia_at_motor(v_axis)
    t10 = v_axis.get('mechanics.efficiency')
    t11 = None if t9 is None or t10 is None else div(t9, t10)
    t12 = None if t8 is None or t11 is None else t8 + t11
    t13 = None if t7 is None or t12 is None else div(t7, t12)
    t14 = d_axis__units_per_motor_rev(v_axis)
    t15 = None if t13 is None or t14 is None else t13 * t14
    v_axis['=attainable_acceleration'] = t15
    return t15

def d_axis__attainable_deceleration(v_axis):
    if '=attainable_deceleration' in v_axis:
        return v_axis['=attainable_deceleration']
    v_machine = v_axis["@machine"]
    t1 = d_axis__available_torque(v_axis)
    t2 = d_axis__gravity_torque(v_axis)
    t3 = d_axis__friction_at_motor(v_axis)
    t4 = None if t2 is None or t3 is None else t2 - t3
    t5 = v_axis.get('mechanics.efficiency')
    t6 = None if t4 is None or t5 is None else t4 * t5
    t7 = None if t1 is None or t6 is None else t1 - t6
    t8 = d_axis__shaft_inertia(v_axis)
    t9 = d_axis__load_inertia_at_motor(v_axis)
    t10 = v_axis.get('mechanics.efficiency')
    t11 = None if t9 is None or t10 is None else t9 * t10
    t12 = None if t8 is None or t11 is None else t8 + t11
    t13 = None if t7 is None or t12 is None else div(t7, t12)
    t14 = d_axis__units_per_motor_rev(v_axis)
    t15 = None if t13 is None or t14 is None else t13 * t14
    v_axis['=attainable_deceleration'] = t15
    return t15

def d_axis__hardest_braking(v_axis):
    if '=hardest_braking' in v_axis:
        return v_axis['=hardest_braking']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.max_acceleration')
    t2 = v_axis.get('drive.stop_reaction.option')
    t3 = None if t2 is None else t2 == 'disable_at_once'
    if t3 is None:
        t4 = None
    elif t3:
        t5 = v_axis.get('controller.max_acceleration')
        t4 = t5
    else:
        t6 = v_axis.get('drive.stop_reaction.deceleration')
        t4 = t6
    t8 = v_axis.get('controller.software_limits')
    t9 = None if t8 is None else t8 is NONE
    t7 = t9
    if t7 is not True:
        t10 = v_axis.get('controller.software_limits.planned')
        if t7 is None:
            t7 = True if t10 is True else None
        else:
            t7 = t10
    if t7 is None:
        t11 = None
    elif t7:
        t12 = v_axis.get('controller.max_acceleration')
        t11 = t12
    else:
        t13 = v_axis.get('controller.stop.deceleration')
        t11 = t13
    t14 = None if t4 is None or t11 is None else f_larger(t4, t11)
    t15 = None if t1 is None or t14 is None else f_larger(t1, t14)
    v_axis['=hardest_braking'] = t15
    return t15

def d_axis__braking_torque(v_axis):
    if '=braking_torque' in v_axis:
        return v_axis['=braking_torque']
    v_machine = v_axis["@machine"]
    t1 = d_axis__shaft_inertia(v_axis)
    t2 = d_axis__load_inertia_at_motor(v_axis)
    t3 = v_axis.get('mechanics.efficiency')
    t4 = None if t2 is None or t3 is None else t2 * t3
    t5 = None if t1 is None or t4 is None else t1 + t4
    t6 = d_axis__hardest_braking(v_axis)
    t7 = None if t5 is None or t6 is None else t5 * t6
    t8 = d_axis__units_per_motor_rev(v_axis)
    t9 = None if t7 is None or t8 is None else div(t7, t8)
    t10 = d_axis__gravity_torque(v_axis)
    t11 = d_axis__friction_at_motor(v_axis)
    t12 = None if t10 is None or t11 is None else t10 - t11
    t13 = v_axis.get('mechanics.efficiency')
    t14 = None if t12 is None or t13 is None else t12 * t13
    t15 = None if t9 is None or t14 is None else t9 + t14
    v_axis['=braking_torque'] = t15
    return t15

def d_axis__lowering_power_by_shaft(v_axis):
    if '=lowering_power_by_shaft' in v_axis:
        return v_axis['=lowering_power_by_shaft']
    v_machine = v_axis["@machine"]
    t1 = d_axis__gravity_torque(v_axis)
    t2 = d_axis__top_motor_speed(v_axis)
    t3 = None if t1 is None or t2 is None else t1 * t2
    t4 = v_axis.get('mechanics.efficiency')
    t5 = None if t3 is None or t4 is None else t3 * t4
    v_axis['=lowering_power_by_shaft'] = t5
    return t5

def d_axis__lowering_power(v_axis):
    if '=lowering_power' in v_axis:
        return v_axis['=lowering_power']
    v_machine = v_axis["@machine"]
    t1 = d_axis__has_driving_shaft(v_axis)
    if t1 is None:
        t2 = None
    elif t1:
        t3 = d_axis__lowering_power_by_shaft(v_axis)
        t2 = t3
    else:
        t4 = v_axis.get('motion')
        t5 = None if t4 is None else t4 == 'linear'
        if t5 is None:
            t6 = None
        elif t5:
            t7 = d_axis__gravity_force(v_axis)
            t8 = v_axis.get('controller.max_velocity')
            t9 = None if t7 is None or t8 is None else t7 * t8
            t6 = t9
        else:
            t10 = d_axis__lowering_power_by_shaft(v_axis)
            t6 = t10
        t2 = t6
    v_axis['=lowering_power'] = t2
    return t2

def d_axis__returned_power_by_shaft(v_axis):
    if '=returned_power_by_shaft' in v_axis:
        return v_axis['=returned_power_by_shaft']
    v_machine = v_axis["@machine"]
    t1 = d_axis__top_motor_speed(v_axis)
    t3 = d_axis__braking_torque(v_axis)
    t4 = d_axis__available_torque(v_axis)
    t5 = None if t3 is None or t4 is None else f_smaller(t3, t4)
    t2 = t5
    if t2 is None and not ('#disputed' in v_axis and disputed(v_axis, ('motor.inertia', 'mechanics.transmission_inertia', 'motion', 'mechanics.load_mass', 'mechanics.final.kind', 'mechanics.final.lead', 'mechanics.final.starts', 'mechanics.final.pitch', 'mechanics.final.teeth', 'mechanics.final.helix', 'mechanics.final.module', 'mechanics.final.diameter', 'mechanics.stages', 'mechanics.stages[].motor_turns_per_load_turn', 'mechanics.stages[].load_side_teeth', 'mechanics.stages[].motor_side_teeth', 'mechanics.load_inertia', 'mechanics.efficiency', 'controller.max_acceleration', 'drive.stop_reaction.option', 'drive.stop_reaction.deceleration', 'controller.software_limits', 'controller.software_limits.planned', 'controller.stop.deceleration', 'mechanics.inclination', 'mechanics.vertical', 'mechanics.counterbalance', 'mechanics.unbalanced_torque', 'mechanics.friction_force', 'mechanics.friction_torque', 'motor.peak_torque', 'drive.torque_limit'))):
        t6 = d_axis__braking_torque(v_axis)
        t2 = t6
    t7 = None if t1 is None or t2 is None else t1 * t2
    v_axis['=returned_power_by_shaft'] = t7
    return t7

def d_axis__returned_power(v_axis):
    if '=returned_power' in v_axis:
        return v_axis['=returned_power']
    v_machine = v_axis["@machine"]
    t1 = d_axis__has_driving_shaft(v_axis)
    if t1 is None:
        t2 = None
    elif t1:
        t3 = d_axis__returned_power_by_shaft(v_axis)
        t2 = t3
    else:
        t4 = v_axis.get('motion')
        t5 = None if t4 is None else t4 == 'linear'
        if t5 is None:
            t6 = None
        elif t5:
            t7 = v_axis.get('controller.max_velocity')
            t8 = v_axis.get('mechanics.load_mass')
            t9 = d_axis__hardest_braking(v_axis)
            t10 = None if t8 is None or t9 is None else t8 * t9
            t11 = d_axis__gravity_force(v_axis)
            t12 = None if t10 is None or t11 is None else t10 + t11
            t13 = v_axis.get('mechanics.friction_force')
            t14 = None if t12 is None or t13 is None else t12 - t13
            t15 = None if t7 is None or t14 is None else t7 * t14
            t6 = t15
        else:
            t16 = d_axis__returned_power_by_shaft(v_axis)
            t6 = t16
        t2 = t6
    v_axis['=returned_power'] = t2
    return t2

def d_axis__duty_load(v_axis):
    if '=duty_load' in v_axis:
        return v_axis['=duty_load']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('controller.duty')
    t2 = v_axis.get('controller.duty#partial')
    if t1 is None or t2:
        t3 = None
    else:
        t4 = True
        t3 = 0
        for v_seg in t1:
            t5 = v_seg.get('torque')
            t6 = None if t5 is None else raised(t5, 2)
            t7 = v_seg.get('time')
            t8 = None if t6 is None or t7 is None else t6 * t7
            if t8 is None:
                t4 = False
                break
            t3 = capped(t3 + t8)
            if t3 is None:
                t4 = False
                break
        t3 = t3 if t4 else None
    t9 = v_axis.get('controller.duty')
    t10 = v_axis.get('controller.duty#partial')
    if t9 is None or t10:
        t11 = None
    else:
        t12 = True
        t11 = 0
        for v_seg in t9:
            t13 = v_seg.get('time')
            if t13 is None:
                t12 = False
                break
            t11 = capped(t11 + t13)
            if t11 is None:
                t12 = False
                break
        t11 = t11 if t12 else None
    t14 = None if t3 is None or t11 is None else div(t3, t11)
    t15 = v_axis.get('motor.rated_torque')
    t16 = None if t15 is None else raised(t15, 2)
    t17 = None if t14 is None or t16 is None else div(t14, t16)
    t18 = None if t17 is None else f_square_root(t17)
    v_axis['=duty_load'] = t18
    return t18

def d_axis__inertia_ratio(v_axis):
    if '=inertia_ratio' in v_axis:
        return v_axis['=inertia_ratio']
    v_machine = v_axis["@machine"]
    t1 = d_axis__load_inertia_at_motor(v_axis)
    t2 = v_axis.get('mechanics.transmission_inertia')
    t3 = None if t1 is None or t2 is None else t1 + t2
    t4 = v_axis.get('motor.inertia')
    t5 = None if t3 is None or t4 is None else div(t3, t4)
    v_axis['=inertia_ratio'] = t5
    return t5

def d_axis__load_sits_on_rotor(v_axis):
    if '=load_sits_on_rotor' in v_axis:
        return v_axis['=load_sits_on_rotor']
    v_machine = v_axis["@machine"]
    t3 = v_axis.get('mechanics.final.kind')
    t4 = None if t3 is None else t3 == 'direct'
    t2 = t4
    if t2 is not False:
        t5 = v_axis.get('mechanics.stages')
        t6 = v_axis.get('mechanics.stages#partial')
        if t5 is None or t6:
            t7 = None
        else:
            t8 = True
            t7 = 0
            for v_stage in t5:
                t7 += 1
            t7 = t7 if t8 else None
        t9 = None if t7 is None else eq(t7, 0)
        if t2 is None:
            t2 = False if t9 is False else None
        else:
            t2 = t9
    t1 = t2
    if t1 is not False:
        t10 = v_axis.get('mechanics.couplings')
        t11 = v_axis.get('mechanics.couplings#partial')
        if t10 is None or t11:
            t12 = None
        else:
            t13 = True
            t12 = 0
            for v_joint in t10:
                t12 += 1
            t12 = t12 if t13 else None
        t14 = None if t12 is None else eq(t12, 0)
        if t1 is None:
            t1 = False if t14 is False else None
        else:
            t1 = t14
    v_axis['=load_sits_on_rotor'] = t1
    return t1

def d_axis__range_to_have(v_axis):
    if '=range_to_have' in v_axis:
        return v_axis['=range_to_have']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('encoder.kind')
    t2 = None if t1 is None else t1 == 'absolute_singleturn'
    if t2 is None:
        t3 = None
    elif t2:
        t4 = d_axis__end_span(v_axis)
        t3 = t4
    else:
        t5 = d_axis__end_span(v_axis)
        t6 = v_axis.get('@s:turn_range_margin', Fraction(1, 10))
        t7 = None if t6 is None else 1 + t6
        t8 = None if t5 is None or t7 is None else t5 * t7
        t3 = t8
    v_axis['=range_to_have'] = t3
    return t3

def d_axis__scaling_allowance(v_axis):
    if '=scaling_allowance' in v_axis:
        return v_axis['=scaling_allowance']
    v_machine = v_axis["@machine"]
    t3 = v_axis.get('controller.type')
    t4 = None if t3 is None else t3 == 'linear'
    t2 = t4
    if t2 is not False:
        t6 = d_axis__forgets_position(v_axis)
        t5 = t6
        if t5 is not True:
            t7 = v_axis.get('controller.unfolding')
            t8 = None if t7 is None else t7 == 'tracked'
            t9 = None if t8 is None else not t8
            if t5 is None:
                t5 = True if t9 is True else None
            else:
                t5 = t9
        if t2 is None:
            t2 = False if t5 is False else None
        else:
            t2 = t5
    if t2 is None:
        t10 = None
    elif t2:
        t11 = v_axis.get('@s:scaling_share', Fraction(1, 100))
        t12 = v_axis.get('mechanics.required_accuracy')
        t13 = None if t11 is None or t12 is None else t11 * t12
        t14 = d_axis__travel_span(v_axis)
        t15 = None if t13 is None or t14 is None else div(t13, t14)
        t10 = t15
    else:
        t10 = 0
    t1 = t10
    if t1 is None and not ('#disputed' in v_axis and disputed(v_axis, ('controller.type', 'encoder.kind', 'drive.encoder_use', 'encoder.form', 'mechanics.final.kind', 'mechanics.final.lead', 'mechanics.final.starts', 'mechanics.final.pitch', 'mechanics.final.teeth', 'mechanics.final.helix', 'mechanics.final.module', 'mechanics.final.diameter', 'motion', 'encoder.mounted_on', 'mechanics.stages', 'mechanics.stages[].motor_turns_per_load_turn', 'mechanics.stages[].load_side_teeth', 'mechanics.stages[].motor_side_teeth', 'encoder.turns_per_driving_shaft_turn', 'controller.cycle', 'mechanics.travel', 'mechanics.travel.max', 'mechanics.limit_switches', 'mechanics.limit_switches.positive', 'controller.software_limits.max', 'mechanics.travel.min', 'mechanics.limit_switches.negative', 'controller.software_limits.min', 'controller.wraps_retained', 'controller.unfolding', 'mechanics.required_accuracy'))):
        t1 = 0
    v_axis['=scaling_allowance'] = t1
    return t1

def d_axis__quadrature_slip(v_axis):
    if '=quadrature_slip' in v_axis:
        return v_axis['=quadrature_slip']
    v_machine = v_axis["@machine"]
    t2 = v_axis.get('drive.counts_per_revolution')
    t3 = d_axis__encoder_counts_per_revolution(v_axis)
    t4 = None if t3 is None else 4 * t3
    t5 = None if t2 is None or t4 is None else eq(t2, t4)
    t1 = t5
    if t1 is not True:
        t6 = v_axis.get('drive.counts_per_revolution')
        t7 = None if t6 is None else 4 * t6
        t8 = d_axis__encoder_counts_per_revolution(v_axis)
        t9 = None if t7 is None or t8 is None else eq(t7, t8)
        if t1 is None:
            t1 = True if t9 is True else None
        else:
            t1 = t9
    v_axis['=quadrature_slip'] = t1
    return t1

def d_axis__scaling_factor(v_axis):
    if '=scaling_factor' in v_axis:
        return v_axis['=scaling_factor']
    v_machine = v_axis["@machine"]
    t1 = d_axis__controller_counts_per_unit(v_axis)
    t2 = d_axis__controller_counts_per_unit_due(v_axis)
    t3 = None if t1 is None or t2 is None else div(t1, t2)
    v_axis['=scaling_factor'] = t3
    return t3

def d_axis__scaling_tolerance(v_axis):
    if '=scaling_tolerance' in v_axis:
        return v_axis['=scaling_tolerance']
    v_machine = v_axis["@machine"]
    t1 = d_axis__scaling_factor(v_axis)
    t2 = None if t1 is None else f_involves_pi(t1)
    if t2 is None:
        t3 = None
    elif t2:
        t4 = v_axis.get('@s:rounding_of_pi', Fraction(1, 1000000))
        t3 = t4
    else:
        t3 = 0
    v_axis['=scaling_tolerance'] = t3
    return t3

def d_axis__scaling_is_gross(v_axis):
    if '=scaling_is_gross' in v_axis:
        return v_axis['=scaling_is_gross']
    v_machine = v_axis["@machine"]
    t1 = d_axis__scaling_factor(v_axis)
    t2 = v_axis.get('@s:gross_scaling', Fraction(1, 100))
    t3 = None if t1 is None or t2 is None else within(t1, t2, 1)
    t4 = None if t3 is None else not t3
    v_axis['=scaling_is_gross'] = t4
    return t4

def d_axis__likely_scaling_factor(v_axis):
    if '=likely_scaling_factor' in v_axis:
        return v_axis['=likely_scaling_factor']
    v_machine = v_axis["@machine"]
    t1 = d_axis__scaling_factor(v_axis)
    t2 = d_axis__scaling_tolerance(v_axis)
    t3 = None if t1 is None or t2 is None else f_simple_fraction(t1, t2)
    v_axis['=likely_scaling_factor'] = t3
    return t3

def d_axis__scaling_slip(v_axis):
    if '=scaling_slip' in v_axis:
        return v_axis['=scaling_slip']
    v_machine = v_axis["@machine"]
    t1 = d_axis__controller_counts_per_unit(v_axis)
    t2 = d_axis__counts_per_unit(v_axis)
    t3 = None if t1 is None or t2 is None else div(t1, t2)
    t4 = v_axis.get('@s:slip_rounding', Fraction(1, 10000))
    t5 = None if t3 is None or t4 is None else within(t3, t4, 1)
    if t5 is None:
        t6 = None
    elif t5:
        t6 = 'counts of the encoder, where the drive shows command increments'
    else:
        t9 = v_axis.get('drive.gear')
        t10 = None if t9 is None else t9 is NONE
        t8 = t10
        if t8 is not False:
            t11 = d_axis__scaling_factor(v_axis)
            t12 = d_axis__encoder_counts_per_revolution(v_axis)
            t13 = None if t11 is None or t12 is None else t11 * t12
            t14 = v_axis.get('drive.counts_per_revolution')
            t15 = None if t13 is None or t14 is None else div(t13, t14)
            t16 = v_axis.get('@s:slip_rounding', Fraction(1, 10000))
            t17 = None if t15 is None or t16 is None else within(t15, t16, 1)
            if t8 is None:
                t8 = False if t17 is False else None
            else:
                t8 = t17
        t7 = t8
        if t7 is None and not ('#disputed' in v_axis and disputed(v_axis, ('drive.gear', 'controller.scaling.counts', 'controller.scaling.distance', 'controller.counts_per_unit', 'encoder.form', 'motion', 'encoder.measuring_step', 'encoder.counts_per_revolution', 'encoder.lines_per_revolution', 'encoder.evaluation', 'mechanics.final.kind', 'mechanics.final.lead', 'mechanics.final.starts', 'mechanics.final.pitch', 'mechanics.final.teeth', 'mechanics.final.helix', 'mechanics.final.module', 'mechanics.final.diameter', 'encoder.mounted_on', 'mechanics.stages', 'mechanics.stages[].motor_turns_per_load_turn', 'mechanics.stages[].load_side_teeth', 'mechanics.stages[].motor_side_teeth', 'encoder.turns_per_driving_shaft_turn', 'drive.gear.command_increment', 'drive.counts_per_revolution'))):
            t7 = False
        if t7 is None:
            t18 = None
        elif t7:
            t18 = 'the counts of another encoder, which the drive is set to as well'
        else:
            t20 = v_axis.get('drive.gear')
            t21 = None if t20 is None else t20 is NONE
            t19 = t21
            if t19 is not False:
                t22 = d_axis__scaling_factor(v_axis)
                t23 = d_axis__gear_ratio(v_axis)
                t24 = None if t22 is None or t23 is None else div(t22, t23)
                t25 = v_axis.get('@s:slip_rounding', Fraction(1, 10000))
                t26 = None if t24 is None or t25 is None else within(t24, t25, 1)
                if t19 is None:
                    t19 = False if t26 is False else None
                else:
                    t19 = t26
            if t19 is None:
                t27 = None
            elif t19:
                t27 = 'the gear counted twice'
            else:
                t29 = v_axis.get('drive.gear')
                t30 = None if t29 is None else t29 is NONE
                t28 = t30
                if t28 is not False:
                    t31 = d_axis__scaling_factor(v_axis)
                    t32 = d_axis__gear_ratio(v_axis)
                    t33 = None if t31 is None or t32 is None else t31 * t32
                    t34 = v_axis.get('@s:slip_rounding', Fraction(1, 10000))
                    t35 = None if t33 is None or t34 is None else within(t33, t34, 1)
                    if t28 is None:
                        t28 = False if t35 is False else None
                    else:
                        t28 = t35
                if t28 is None:
                    t36 = None
                elif t28:
                    t36 = 'the gear left out'
                else:
                    t38 = v_axis.get('drive.gear')
                    t39 = None if t38 is None else t38 is NONE
                    t37 = t39
                    if t37 is not False:
                        t40 = d_axis__scaling_factor(v_axis)
                        t41 = d_axis__gear_ratio(v_axis)
                        t42 = None if t41 is None else raised(t41, 2)
                        t43 = None if t40 is None or t42 is None else t40 * t42
                        t44 = v_axis.get('@s:slip_rounding', Fraction(1, 10000))
                        t45 = None if t43 is None or t44 is None else within(t43, t44, 1)
                        if t37 is None:
                            t37 = False if t45 is False else None
                        else:
                            t37 = t45
                    if t37 is None:
                        t46 = None
                    elif t37:
                        t46 = 'the gear upside down, in the scaling or in the mechanics on record'
                    else:
                        t48 = v_axis.get('drive.gear')
                        t49 = None if t48 is None else t48 is NONE
                        t47 = t49
                        if t47 is not False:
                            t50 = v_axis.get('mechanics.stages')
                            t51 = v_axis.get('mechanics.stages#partial')
                            if t50 is None:
                                t52 = None
                            else:
                                t52 = None if t51 else False
                                for v_stage in t50:
                                    t53 = d_axis__scaling_factor(v_axis)
                                    t54 = d_axis_mechanics_stages__ratio(v_stage)
                                    t55 = None if t53 is None or t54 is None else t53 * t54
                                    t56 = v_axis.get('@s:slip_rounding', Fraction(1, 10000))
                                    t57 = None if t55 is None or t56 is None else within(t55, t56, 1)
                                    if t57 is True:
                                        t52 = True
                                        break
                                    if t57 is None:
                                        t52 = None
                            if t47 is None:
                                t47 = False if t52 is False else None
                            else:
                                t47 = t52
                        if t47 is None:
                            t58 = None
                        elif t47:
                            t58 = 'one stage of the gear left out'
                        else:
                            t60 = v_axis.get('drive.gear')
                            t61 = None if t60 is None else t60 is NONE
                            t59 = t61
                            if t59 is not False:
                                t62 = v_axis.get('mechanics.stages')
                                t63 = v_axis.get('mechanics.stages#partial')
                                if t62 is None:
                                    t64 = None
                                else:
                                    t64 = None if t63 else False
                                    for v_stage in t62:
                                        t65 = d_axis__scaling_factor(v_axis)
                                        t66 = d_axis_mechanics_stages__ratio(v_stage)
                                        t67 = None if t66 is None else raised(t66, 2)
                                        t68 = None if t65 is None or t67 is None else t65 * t67
                                        t69 = v_axis.get('@s:slip_rounding', Fraction(1, 10000))
                                        t70 = None if t68 is None or t69 is None else within(t68, t69, 1)
                                        if t70 is True:
                                            t64 = True
                                            break
                                        if t70 is None:
                                            t64 = None
                                if t59 is None:
                                    t59 = False if t64 is False else None
                                else:
                                    t59 = t64
                            if t59 is None:
                                t71 = None
                            elif t59:
                                t71 = 'one stage of the gear upside down'
                            else:
                                t74 = d_axis__scaling_factor(v_axis)
                                t75 = v_axis.get('mechanics.final.starts')
                                t76 = None if t74 is None or t75 is None else div(t74, t75)
                                t77 = v_axis.get('@s:slip_rounding', Fraction(1, 10000))
                                t78 = None if t76 is None or t77 is None else within(t76, t77, 1)
                                t73 = t78
                                if t73 is not True:
                                    t79 = d_axis__scaling_factor(v_axis)
                                    t80 = v_axis.get('mechanics.final.starts')
                                    t81 = None if t79 is None or t80 is None else t79 * t80
                                    t82 = v_axis.get('@s:slip_rounding', Fraction(1, 10000))
                                    t83 = None if t81 is None or t82 is None else within(t81, t82, 1)
                                    if t73 is None:
                                        t73 = True if t83 is True else None
                                    else:
                                        t73 = t83
                                t72 = t73
                                if t72 is None and not ('#disputed' in v_axis and disputed(v_axis, ('controller.scaling.counts', 'controller.scaling.distance', 'controller.counts_per_unit', 'drive.gear', 'encoder.form', 'motion', 'encoder.measuring_step', 'encoder.counts_per_revolution', 'encoder.lines_per_revolution', 'encoder.evaluation', 'mechanics.final.kind', 'mechanics.final.lead', 'mechanics.final.starts', 'mechanics.final.pitch', 'mechanics.final.teeth', 'mechanics.final.helix', 'mechanics.final.module', 'mechanics.final.diameter', 'encoder.mounted_on', 'mechanics.stages', 'mechanics.stages[].motor_turns_per_load_turn', 'mechanics.stages[].load_side_teeth', 'mechanics.stages[].motor_side_teeth', 'encoder.turns_per_driving_shaft_turn', 'drive.gear.command_increment'))):
                                    t72 = False
                                if t72 is None:
                                    t84 = None
                                elif t72:
                                    t84 = 'pitch and lead of a screw with several starts'
                                else:
                                    t87 = v_axis.get('encoder.kind')
                                    t88 = None if t87 is None else t87 == 'incremental'
                                    t86 = t88
                                    if t86 is None and not ('#disputed' in v_axis and disputed(v_axis, ('encoder.kind',))):
                                        t86 = True
                                    t85 = t86
                                    if t85 is not False:
                                        t89 = d_axis__scaling_factor(v_axis)
                                        t90 = None if t89 is None else div(t89, 4)
                                        t91 = v_axis.get('@s:slip_rounding', Fraction(1, 10000))
                                        t92 = None if t90 is None or t91 is None else within(t90, t91, 1)
                                        if t85 is None:
                                            t85 = False if t92 is False else None
                                        else:
                                            t85 = t92
                                    if t85 is None:
                                        t93 = None
                                    elif t85:
                                        t93 = 'the four edges of a line counted twice'
                                    else:
                                        t96 = v_axis.get('encoder.kind')
                                        t97 = None if t96 is None else t96 == 'incremental'
                                        t95 = t97
                                        if t95 is None and not ('#disputed' in v_axis and disputed(v_axis, ('encoder.kind',))):
                                            t95 = True
                                        t94 = t95
                                        if t94 is not False:
                                            t98 = d_axis__scaling_factor(v_axis)
                                            t99 = None if t98 is None else t98 * 4
                                            t100 = v_axis.get('@s:slip_rounding', Fraction(1, 10000))
                                            t101 = None if t99 is None or t100 is None else within(t99, t100, 1)
                                            if t94 is None:
                                                t94 = False if t101 is False else None
                                            else:
                                                t94 = t101
                                        if t94 is None:
                                            t102 = None
                                        elif t94:
                                            t102 = 'lines taken for counts, four edges each'
                                        else:
                                            t104 = d_axis__scaling_factor(v_axis)
                                            t105 = None if t104 is None else div(t104, 1000)
                                            t106 = v_axis.get('@s:slip_rounding', Fraction(1, 10000))
                                            t107 = None if t105 is None or t106 is None else within(t105, t106, 1)
                                            t103 = t107
                                            if t103 is not True:
                                                t108 = d_axis__scaling_factor(v_axis)
                                                t109 = None if t108 is None else t108 * 1000
                                                t110 = v_axis.get('@s:slip_rounding', Fraction(1, 10000))
                                                t111 = None if t109 is None or t110 is None else within(t109, t110, 1)
                                                if t103 is None:
                                                    t103 = True if t111 is True else None
                                                else:
                                                    t103 = t111
                                            if t103 is None:
                                                t112 = None
                                            elif t103:
                                                t112 = 'a thousandth taken for the unit, or the unit for a thousandth'
                                            else:
                                                t114 = d_axis__scaling_factor(v_axis)
                                                t115 = None if t114 is None else div(t114, Fraction(127, 5))
                                                t116 = v_axis.get('@s:slip_rounding', Fraction(1, 10000))
                                                t117 = None if t115 is None or t116 is None else within(t115, t116, 1)
                                                t113 = t117
                                                if t113 is not True:
                                                    t118 = d_axis__scaling_factor(v_axis)
                                                    t119 = None if t118 is None else t118 * Fraction(127, 5)
                                                    t120 = v_axis.get('@s:slip_rounding', Fraction(1, 10000))
                                                    t121 = None if t119 is None or t120 is None else within(t119, t120, 1)
                                                    if t113 is None:
                                                        t113 = True if t121 is True else None
                                                    else:
                                                        t113 = t121
                                                if t113 is None:
                                                    t122 = None
                                                elif t113:
                                                    t122 = 'inches and millimetres'
                                                else:
                                                    t124 = d_axis__scaling_factor(v_axis)
                                                    t125 = None if t124 is None else div(t124, 360)
                                                    t126 = v_axis.get('@s:slip_rounding', Fraction(1, 10000))
                                                    t127 = None if t125 is None or t126 is None else within(t125, t126, 1)
                                                    t123 = t127
                                                    if t123 is not True:
                                                        t128 = d_axis__scaling_factor(v_axis)
                                                        t129 = None if t128 is None else t128 * 360
                                                        t130 = v_axis.get('@s:slip_rounding', Fraction(1, 10000))
                                                        t131 = None if t129 is None or t130 is None else within(t129, t130, 1)
                                                        if t123 is None:
                                                            t123 = True if t131 is True else None
                                                        else:
                                                            t123 = t131
                                                    if t123 is None:
                                                        t132 = None
                                                    elif t123:
                                                        t132 = 'revolutions and degrees'
                                                    else:
                                                        t134 = d_axis__scaling_factor(v_axis)
                                                        t135 = f_circumference(2)
                                                        t136 = None if t134 is None or t135 is None else div(t134, t135)
                                                        t137 = v_axis.get('@s:slip_rounding', Fraction(1, 10000))
                                                        t138 = None if t136 is None or t137 is None else within(t136, t137, 1)
                                                        t133 = t138
                                                        if t133 is not True:
                                                            t139 = d_axis__scaling_factor(v_axis)
                                                            t140 = f_circumference(2)
                                                            t141 = None if t139 is None or t140 is None else t139 * t140
                                                            t142 = v_axis.get('@s:slip_rounding', Fraction(1, 10000))
                                                            t143 = None if t141 is None or t142 is None else within(t141, t142, 1)
                                                            if t133 is None:
                                                                t133 = True if t143 is True else None
                                                            else:
                                                                t133 = t143
                                                        if t133 is None:
                                                            t144 = None
                                                        elif t133:
                                                            t144 = 'revolutions and radians, 2·pi'
                                                        else:
                                                            t146 = d_axis__scaling_factor(v_axis)
                                                            t147 = f_circumference(1)
                                                            t148 = None if t146 is None or t147 is None else t146 * t147
                                                            t149 = None if t148 is None else div(t148, 180)
                                                            t150 = v_axis.get('@s:slip_rounding', Fraction(1, 10000))
                                                            t151 = None if t149 is None or t150 is None else within(t149, t150, 1)
                                                            t145 = t151
                                                            if t145 is not True:
                                                                t152 = d_axis__scaling_factor(v_axis)
                                                                t153 = None if t152 is None else t152 * 180
                                                                t154 = f_circumference(1)
                                                                t155 = None if t153 is None or t154 is None else div(t153, t154)
                                                                t156 = v_axis.get('@s:slip_rounding', Fraction(1, 10000))
                                                                t157 = None if t155 is None or t156 is None else within(t155, t156, 1)
                                                                if t145 is None:
                                                                    t145 = True if t157 is True else None
                                                                else:
                                                                    t145 = t157
                                                            if t145 is None:
                                                                t158 = None
                                                            elif t145:
                                                                t158 = 'degrees and radians, 180/pi'
                                                            else:
                                                                t162 = d_axis__scaling_factor(v_axis)
                                                                t163 = None if t162 is None else div(t162, 10)
                                                                t164 = v_axis.get('@s:slip_rounding', Fraction(1, 10000))
                                                                t165 = None if t163 is None or t164 is None else within(t163, t164, 1)
                                                                t161 = t165
                                                                if t161 is not True:
                                                                    t166 = d_axis__scaling_factor(v_axis)
                                                                    t167 = None if t166 is None else t166 * 10
                                                                    t168 = v_axis.get('@s:slip_rounding', Fraction(1, 10000))
                                                                    t169 = None if t167 is None or t168 is None else within(t167, t168, 1)
                                                                    if t161 is None:
                                                                        t161 = True if t169 is True else None
                                                                    else:
                                                                        t161 = t169
                                                                t160 = t161
                                                                if t160 is not True:
                                                                    t170 = d_axis__scaling_factor(v_axis)
                                                                    t171 = None if t170 is None else div(t170, 100)
                                                                    t172 = v_axis.get('@s:slip_rounding', Fraction(1, 10000))
                                                                    t173 = None if t171 is None or t172 is None else within(t171, t172, 1)
                                                                    if t160 is None:
                                                                        t160 = True if t173 is True else None
                                                                    else:
                                                                        t160 = t173
                                                                t159 = t160
                                                                if t159 is not True:
                                                                    t174 = d_axis__scaling_factor(v_axis)
                                                                    t175 = None if t174 is None else t174 * 100
                                                                    t176 = v_axis.get('@s:slip_rounding', Fraction(1, 10000))
                                                                    t177 = None if t175 is None or t176 is None else within(t175, t176, 1)
                                                                    if t159 is None:
                                                                        t159 = True if t177 is True else None
                                                                    else:
                                                                        t159 = t177
                                                                if t159 is None:
                                                                    t178 = None
                                                                elif t159:
                                                                    t178 = 'a decimal point that stands a place or two aside'
                                                                else:
                                                                    t180 = d_axis__likely_scaling_factor(v_axis)
                                                                    t181 = None if t180 is None else f_numerator(t180)
                                                                    t182 = f_power_of_two(16)
                                                                    t183 = None if t181 is None or t182 is None else divides(t181, t182)
                                                                    t179 = t183
                                                                    if t179 is not False:
                                                                        t184 = d_axis__likely_scaling_factor(v_axis)
                                                                        t185 = None if t184 is None else f_denominator(t184)
                                                                        t186 = f_power_of_two(16)
                                                                        t187 = None if t185 is None or t186 is None else divides(t185, t186)
                                                                        if t179 is None:
                                                                            t179 = False if t187 is False else None
                                                                        else:
                                                                            t179 = t187
                                                                    if t179 is None:
                                                                        t188 = None
                                                                    elif t179:
                                                                        t188 = 'a power of two: an encoder of more or fewer bits'
                                                                    else:
                                                                        t188 = 'nothing well known: compare counts, ratio and feed one by one'
                                                                    t178 = t188
                                                                t158 = t178
                                                            t144 = t158
                                                        t132 = t144
                                                    t122 = t132
                                                t112 = t122
                                            t102 = t112
                                        t93 = t102
                                    t84 = t93
                                t71 = t84
                            t58 = t71
                        t46 = t58
                    t36 = t46
                t27 = t36
            t18 = t27
        t6 = t18
    v_axis['=scaling_slip'] = t6
    return t6

def d_axis__gear_upside_down_by(v_axis):
    if '=gear_upside_down_by' in v_axis:
        return v_axis['=gear_upside_down_by']
    v_machine = v_axis["@machine"]
    t1 = v_axis.get('drive.gear.numerator')
    t2 = v_axis.get('drive.gear.denominator')
    t3 = None if t1 is None or t2 is None else div(t1, t2)
    t4 = d_axis__gear_due_as_typed(v_axis)
    t5 = None if t3 is None or t4 is None else t3 * t4
    v_axis['=gear_upside_down_by'] = t5
    return t5

def d_axis__gear_upside_down(v_axis):
    if '=gear_upside_down' in v_axis:
        return v_axis['=gear_upside_down']
    v_machine = v_axis["@machine"]
    t2 = d_axis__gear_upside_down_by(v_axis)
    t3 = d_axis__gear_upside_down_by(v_axis)
    t4 = None if t3 is None else f_involves_pi(t3)
    if t4 is None:
        t5 = None
    elif t4:
        t6 = v_axis.get('@s:rounding_of_pi', Fraction(1, 1000000))
        t5 = t6
    else:
        t5 = 0
    t7 = None if t2 is None or t5 is None else within(t2, t5, 1)
    t1 = t7
    if t1 is not False:
        t8 = d_axis__gear_due_as_typed(v_axis)
        t9 = None if t8 is None else eq(t8, 1)
        t10 = None if t9 is None else not t9
        if t1 is None:
            t1 = False if t10 is False else None
        else:
            t1 = t10
    v_axis['=gear_upside_down'] = t1
    return t1

def d_axis__drive_ratio_upside_down(v_axis):
    if '=drive_ratio_upside_down' in v_axis:
        return v_axis['=drive_ratio_upside_down']
    v_machine = v_axis["@machine"]
    t2 = v_axis.get('drive.gear_ratio.motor_turns')
    t3 = v_axis.get('drive.gear_ratio.shaft_turns')
    t4 = None if t2 is None or t3 is None else div(t2, t3)
    t5 = d_axis__gear_ratio(v_axis)
    t6 = None if t4 is None or t5 is None else t4 * t5
    t7 = None if t6 is None else eq(t6, 1)
    t1 = t7
    if t1 is not False:
        t8 = d_axis__gear_ratio(v_axis)
        t9 = None if t8 is None else eq(t8, 1)
        t10 = None if t9 is None else not t9
        if t1 is None:
            t1 = False if t10 is False else None
        else:
            t1 = t10
    v_axis['=drive_ratio_upside_down'] = t1
    return t1

def d_axis__controller_positions_to_hold(v_axis):
    if '=controller_positions_to_hold' in v_axis:
        return v_axis['=controller_positions_to_hold']
    v_machine = v_axis["@machine"]
    t1 = d_axis__positions_to_hold(v_axis)
    t2 = d_axis__controller_counts_per_unit_due(v_axis)
    t3 = None if t1 is None or t2 is None else t1 * t2
    t4 = d_axis__counts_per_unit(v_axis)
    t5 = None if t3 is None or t4 is None else div(t3, t4)
    v_axis['=controller_positions_to_hold'] = t5
    return t5

def d_axis__cycle_in_mistaken_unit(v_axis):
    if '=cycle_in_mistaken_unit' in v_axis:
        return v_axis['=cycle_in_mistaken_unit']
    v_machine = v_axis["@machine"]
    t2 = v_axis.get('motion')
    t3 = None if t2 is None else t2 == 'rotary'
    t1 = t3
    if t1 is not False:
        t5 = v_axis.get('controller.cycle')
        t6 = None if t5 is None else eq(t5, 360)
        t4 = t6
        if t4 is not True:
            t7 = v_axis.get('controller.cycle')
            t8 = None if t7 is None else eq(t7, Fraction(1, 360))
            if t4 is None:
                t4 = True if t8 is True else None
            else:
                t4 = t8
        if t1 is None:
            t1 = False if t4 is False else None
        else:
            t1 = t4
    v_axis['=cycle_in_mistaken_unit'] = t1
    return t1

def r_serial_numbers_unique(v_machine):
    t1 = v_machine.get('axes')
    t2 = v_machine.get('axes#partial')
    if t1 is None:
        t3 = None
    else:
        t3 = None if t2 else True
        t4 = set()
        for v_axis in metered(t1, 2):
            t6 = v_axis.get('motor.serial')
            t5 = distinct(t6)
            if t5 is None:
                t3 = None
                continue
            if t5 in t4:
                t3 = False
                break
            t4.add(t5)
    l_motors_apart = t3
    t7 = v_machine.get('axes')
    t8 = v_machine.get('axes#partial')
    if t7 is None:
        t9 = None
    else:
        t9 = None if t8 else True
        t10 = set()
        for v_axis in metered(t7, 2):
            t12 = v_axis.get('encoder.serial')
            t11 = distinct(t12)
            if t11 is None:
                t9 = None
                continue
            if t11 in t10:
                t9 = False
                break
            t10.add(t11)
    l_encoders_apart = t9
    t13 = l_motors_apart
    if t13 is not False:
        if t13 is None:
            t13 = False if l_encoders_apart is False else None
        else:
            t13 = l_encoders_apart
    return None if t13 is None else 1 if t13 else 0

def r_drive_found_on_network(v_axis, v_machine):
    t2 = v_machine.get('network')
    t3 = None if t2 is None else t2 is NONE
    t4 = None if t3 is None else not t3
    t1 = t4
    if t1 is not False:
        t5 = v_axis.get('drive.node')
        t6 = None if t5 is None else t5 is NONE
        t7 = None if t6 is None else not t6
        if t1 is None:
            t1 = False if t7 is False else None
        else:
            t1 = t7
    if t1 is not True:
        return 2 if t1 is False else None
    t8 = v_machine.get('network.nodes')
    t9 = v_machine.get('network.nodes#partial')
    if t8 is None:
        t10 = None
    else:
        t10 = None if t9 else False
        t11 = v_axis.get('drive.node')
        for v_node in metered(matching(v_machine, 'network.nodes', 'address', t11), 10):
            t13 = v_node.get('address')
            t14 = v_axis.get('drive.node')
            if t14 is NONE:
                t14 = None
            t15 = None if t13 is None or t14 is None else eq(t13, t14)
            t12 = t15
            if t12 is not False:
                t17 = v_node.get('network')
                t16 = t17
                if t16 is None and not ('#disputed' in v_node and disputed(v_node, ('network',))):
                    t16 = 1
                t18 = d_axis__network_number(v_axis)
                t19 = None if t16 is None or t18 is None else eq(t16, t18)
                if t12 is None:
                    t12 = False if t19 is False else None
                else:
                    t12 = t19
            if t12 is False:
                continue
            if True is True and t12:
                t10 = True
                break
            if True is not False:
                t10 = None
                if t15 is None:
                    break
    return None if t10 is None else 1 if t10 else 0

def r_node_of_axis_is_a_drive(v_axis, v_machine):
    t3 = v_machine.get('network')
    t4 = None if t3 is None else t3 is NONE
    t5 = None if t4 is None else not t4
    t2 = t5
    if t2 is not False:
        t6 = v_axis.get('drive.node')
        t7 = None if t6 is None else t6 is NONE
        t8 = None if t7 is None else not t7
        if t2 is None:
            t2 = False if t8 is False else None
        else:
            t2 = t8
    t1 = t2
    if t1 is not False:
        t9 = v_machine.get('network.nodes')
        t10 = v_machine.get('network.nodes#partial')
        if t9 is None:
            t11 = None
        else:
            t11 = None if t10 else False
            t12 = v_axis.get('drive.node')
            for v_node in metered(matching(v_machine, 'network.nodes', 'address', t12), 10):
                t14 = v_node.get('address')
                t15 = v_axis.get('drive.node')
                if t15 is NONE:
                    t15 = None
                t16 = None if t14 is None or t15 is None else eq(t14, t15)
                t13 = t16
                if t13 is not False:
                    t18 = v_node.get('network')
                    t17 = t18
                    if t17 is None and not ('#disputed' in v_node and disputed(v_node, ('network',))):
                        t17 = 1
                    t19 = d_axis__network_number(v_axis)
                    t20 = None if t17 is None or t19 is None else eq(t17, t19)
                    if t13 is None:
                        t13 = False if t20 is False else None
                    else:
                        t13 = t20
                if t13 is False:
                    continue
                if True is True and t13:
                    t11 = True
                    break
                if True is not False:
                    t11 = None
                    if t16 is None:
                        break
        if t1 is None:
            t1 = False if t11 is False else None
        else:
            t1 = t11
    if t1 is not True:
        return 2 if t1 is False else None
    t21 = v_machine.get('network.nodes')
    t22 = v_machine.get('network.nodes#partial')
    if t21 is None:
        t23 = None
    else:
        t23 = None if t22 else False
        t24 = v_axis.get('drive.node')
        for v_node in metered(matching(v_machine, 'network.nodes', 'address', t24), 12):
            t26 = v_node.get('address')
            t27 = v_axis.get('drive.node')
            if t27 is NONE:
                t27 = None
            t28 = None if t26 is None or t27 is None else eq(t26, t27)
            t25 = t28
            if t25 is not False:
                t30 = v_node.get('network')
                t29 = t30
                if t29 is None and not ('#disputed' in v_node and disputed(v_node, ('network',))):
                    t29 = 1
                t31 = d_axis__network_number(v_axis)
                t32 = None if t29 is None or t31 is None else eq(t29, t31)
                if t25 is None:
                    t25 = False if t32 is False else None
                else:
                    t25 = t32
            if t25 is False:
                continue
            t34 = v_node.get('drive')
            t33 = t34
            if t33 is None and not ('#disputed' in v_node and disputed(v_node, ('drive',))):
                t33 = True
            if t33 is True and t25:
                t23 = True
                break
            if t33 is not False:
                t23 = None
                if t28 is None:
                    break
    return None if t23 is None else 1 if t23 else 0

def r_drive_at_node_is_the_fitted_one(v_axis, v_machine):
    t3 = v_machine.get('network')
    t4 = None if t3 is None else t3 is NONE
    t5 = None if t4 is None else not t4
    t2 = t5
    if t2 is not False:
        t6 = v_axis.get('drive.node')
        t7 = None if t6 is None else t6 is NONE
        t8 = None if t7 is None else not t7
        if t2 is None:
            t2 = False if t8 is False else None
        else:
            t2 = t8
    t1 = t2
    if t1 is not False:
        t9 = v_machine.get('network.nodes')
        t10 = v_machine.get('network.nodes#partial')
        if t9 is None:
            t11 = None
        else:
            t11 = None if t10 else False
            t12 = v_axis.get('drive.node')
            for v_node in metered(matching(v_machine, 'network.nodes', 'address', t12), 10):
                t14 = v_node.get('address')
                t15 = v_axis.get('drive.node')
                if t15 is NONE:
                    t15 = None
                t16 = None if t14 is None or t15 is None else eq(t14, t15)
                t13 = t16
                if t13 is not False:
                    t18 = v_node.get('network')
                    t17 = t18
                    if t17 is None and not ('#disputed' in v_node and disputed(v_node, ('network',))):
                        t17 = 1
                    t19 = d_axis__network_number(v_axis)
                    t20 = None if t17 is None or t19 is None else eq(t17, t19)
                    if t13 is None:
                        t13 = False if t20 is False else None
                    else:
                        t13 = t20
                if t13 is False:
                    continue
                if True is True and t13:
                    t11 = True
                    break
                if True is not False:
                    t11 = None
                    if t16 is None:
                        break
        if t1 is None:
            t1 = False if t11 is False else None
        else:
            t1 = t11
    if t1 is not True:
        return 2 if t1 is False else None
    t21 = v_machine.get('network.nodes')
    t22 = v_machine.get('network.nodes#partial')
    if t21 is None:
        t23 = None
    else:
        t23 = None if t22 else False
        t24 = v_axis.get('drive.node')
        for v_node in metered(matching(v_machine, 'network.nodes', 'address', t24), 17):
            t26 = v_node.get('address')
            t27 = v_axis.get('drive.node')
            if t27 is NONE:
                t27 = None
            t28 = None if t26 is None or t27 is None else eq(t26, t27)
            t25 = t28
            if t25 is not False:
                t30 = v_node.get('network')
                t29 = t30
                if t29 is None and not ('#disputed' in v_node and disputed(v_node, ('network',))):
                    t29 = 1
                t31 = d_axis__network_number(v_axis)
                t32 = None if t29 is None or t31 is None else eq(t29, t31)
                if t25 is None:
                    t25 = False if t32 is False else None
                else:
                    t25 = t32
            if t25 is False:
                continue
            t34 = v_node.get('serial')
            t35 = v_axis.get('drive.serial')
            t36 = None if t34 is None or t35 is None else t34 == t35
            t33 = t36
            if t33 is not True:
                t38 = v_node.get('drive')
                t37 = t38
                if t37 is None and not ('#disputed' in v_node and disputed(v_node, ('drive',))):
                    t37 = True
                t39 = None if t37 is None else not t37
                if t33 is None:
                    t33 = True if t39 is True else None
                else:
                    t33 = t39
            if t33 is True and t25:
                t23 = True
                break
            if t33 is not False:
                t23 = None
                if t28 is None:
                    break
    return None if t23 is None else 1 if t23 else 0

def r_drive_runs_firmware_on_record(v_axis, v_machine):
    t3 = v_machine.get('network')
    t4 = None if t3 is None else t3 is NONE
    t5 = None if t4 is None else not t4
    t2 = t5
    if t2 is not False:
        t6 = v_axis.get('drive.node')
        t7 = None if t6 is None else t6 is NONE
        t8 = None if t7 is None else not t7
        if t2 is None:
            t2 = False if t8 is False else None
        else:
            t2 = t8
    t1 = t2
    if t1 is not False:
        t9 = v_machine.get('network.nodes')
        t10 = v_machine.get('network.nodes#partial')
        if t9 is None:
            t11 = None
        else:
            t11 = None if t10 else False
            t12 = v_axis.get('drive.node')
            for v_node in metered(matching(v_machine, 'network.nodes', 'address', t12), 12):
                t14 = v_node.get('address')
                t15 = v_axis.get('drive.node')
                if t15 is NONE:
                    t15 = None
                t16 = None if t14 is None or t15 is None else eq(t14, t15)
                t13 = t16
                if t13 is not False:
                    t18 = v_node.get('network')
                    t17 = t18
                    if t17 is None and not ('#disputed' in v_node and disputed(v_node, ('network',))):
                        t17 = 1
                    t19 = d_axis__network_number(v_axis)
                    t20 = None if t17 is None or t19 is None else eq(t17, t19)
                    if t13 is None:
                        t13 = False if t20 is False else None
                    else:
                        t13 = t20
                if t13 is False:
                    continue
                t21 = v_node.get('serial')
                t22 = v_axis.get('drive.serial')
                t23 = None if t21 is None or t22 is None else t21 == t22
                if t23 is True and t13:
                    t11 = True
                    break
                if t23 is not False:
                    t11 = None
                    if t16 is None:
                        break
        if t1 is None:
            t1 = False if t11 is False else None
        else:
            t1 = t11
    if t1 is not True:
        return 2 if t1 is False else None
    t24 = v_machine.get('network.nodes')
    t25 = v_machine.get('network.nodes#partial')
    if t24 is None:
        t26 = None
    else:
        t26 = None if t25 else False
        t27 = v_axis.get('drive.node')
        for v_node in metered(matching(v_machine, 'network.nodes', 'address', t27), 22):
            t29 = v_node.get('address')
            t30 = v_axis.get('drive.node')
            if t30 is NONE:
                t30 = None
            t31 = None if t29 is None or t30 is None else eq(t29, t30)
            t28 = t31
            if t28 is not False:
                t33 = v_node.get('network')
                t32 = t33
                if t32 is None and not ('#disputed' in v_node and disputed(v_node, ('network',))):
                    t32 = 1
                t34 = d_axis__network_number(v_axis)
                t35 = None if t32 is None or t34 is None else eq(t32, t34)
                if t28 is None:
                    t28 = False if t35 is False else None
                else:
                    t28 = t35
            if t28 is False:
                continue
            t37 = v_node.get('firmware')
            t38 = v_axis.get('drive.firmware')
            t39 = None if t37 is None or t38 is None else t37 == t38
            t36 = t39
            if t36 is not True:
                t42 = v_node.get('firmware')
                t43 = v_axis.get('drive.firmware')
                t44 = None if t42 is None or t43 is None else f_version_at_least(t42, t43)
                t41 = t44
                if t41 is not False:
                    t45 = v_axis.get('drive.firmware')
                    t46 = v_node.get('firmware')
                    t47 = None if t45 is None or t46 is None else f_version_at_least(t45, t46)
                    if t41 is None:
                        t41 = False if t47 is False else None
                    else:
                        t41 = t47
                t40 = t41
                if t40 is None and not ('#disputed' in v_node and disputed(v_node, ('firmware',))) and not ('#disputed' in v_axis and disputed(v_axis, ('drive.firmware',))):
                    t40 = False
                if t36 is None:
                    t36 = True if t40 is True else None
                else:
                    t36 = t40
            if t36 is True and t28:
                t26 = True
                break
            if t36 is not False:
                t26 = None
                if t31 is None:
                    break
    return None if t26 is None else 1 if t26 else 0

def r_drive_on_network_has_axis(v_machine):
    t1 = v_machine.get('network')
    t2 = None if t1 is None else t1 is NONE
    t3 = None if t2 is None else not t2
    if t3 is not True:
        return 2 if t3 is False else None
    t4 = v_machine.get('network.nodes')
    t5 = v_machine.get('network.nodes#partial')
    if t4 is None:
        t6 = None
    else:
        t6 = None if t5 else True
        for v_node in metered(t4, 2):
            t7 = v_node.get('drive')
            if t7 is False:
                continue
            t8 = v_machine.get('axes')
            t9 = v_machine.get('axes#partial')
            if t8 is None:
                t10 = None
            else:
                t10 = None if t9 else False
                t11 = v_node.get('address')
                for v_axis in metered(matching(v_machine, 'axes', 'drive.node', t11), 16):
                    t14 = v_axis.get('drive.node')
                    t15 = None if t14 is None else t14 is NONE
                    t16 = None if t15 is None else not t15
                    t13 = t16
                    if t13 is not False:
                        t17 = v_axis.get('drive.node')
                        if t17 is NONE:
                            t17 = None
                        t18 = v_node.get('address')
                        t19 = None if t17 is None or t18 is None else eq(t17, t18)
                        if t13 is None:
                            t13 = False if t19 is False else None
                        else:
                            t13 = t19
                    t12 = t13
                    if t12 is not False:
                        t21 = v_axis.get('drive.network')
                        t20 = t21
                        if t20 is None and not ('#disputed' in v_axis and disputed(v_axis, ('drive.network',))):
                            t20 = 1
                        t23 = v_node.get('network')
                        t22 = t23
                        if t22 is None and not ('#disputed' in v_node and disputed(v_node, ('network',))):
                            t22 = 1
                        t24 = None if t20 is None or t22 is None else eq(t20, t22)
                        if t12 is None:
                            t12 = False if t24 is False else None
                        else:
                            t12 = t24
                    if t12 is False:
                        continue
                    if True is True and t12:
                        t10 = True
                        break
                    if True is not False:
                        t10 = None
            if t10 is False and t7:
                t6 = False
                break
            if t10 is not True:
                t6 = None
    return None if t6 is None else 1 if t6 else 0

def r_drive_firmware_not_too_old(v_axis, v_machine):
    t2 = v_axis.get('drive.firmware_minimum')
    t3 = None if t2 is None else t2 is NONE
    t1 = t3
    if t1 is not True:
        t4 = v_axis.get('drive.firmware')
        t5 = v_axis.get('drive.firmware_minimum')
        if t5 is NONE:
            t5 = None
        t6 = None if t4 is None or t5 is None else f_version_at_least(t4, t5)
        if t1 is None:
            t1 = True if t6 is True else None
        else:
            t1 = t6
    return None if t1 is None else 1 if t1 else 0

def r_gantry_partner_is_an_axis(v_axis, v_machine):
    t1 = v_axis.get('gantry')
    t2 = None if t1 is None else t1 is NONE
    t3 = None if t2 is None else not t2
    if t3 is not True:
        return 2 if t3 is False else None
    t5 = v_machine.get('axes')
    t6 = v_machine.get('axes#partial')
    if t5 is None or t6:
        t7 = None
    else:
        t8 = True
        t7 = 0
        t9 = v_axis.get('gantry.partner')
        for v_other in metered(matching(v_machine, 'axes', 'name', t9), 3):
            t10 = v_other.get('name')
            t11 = v_axis.get('gantry.partner')
            t12 = None if t10 is None or t11 is None else t10 == t11
            if t12 is False:
                continue
            if t12 is None:
                t8 = False
                break
            t7 += 1
        t7 = t7 if t8 else None
    t13 = None if t7 is None else t7 >= 1
    t4 = t13
    if t4 is not False:
        t14 = v_axis.get('gantry.partner')
        t15 = v_axis.get('name')
        t16 = None if t14 is None or t15 is None else t14 == t15
        t17 = None if t16 is None else not t16
        if t4 is None:
            t4 = False if t17 is False else None
        else:
            t4 = t17
    return None if t4 is None else 1 if t4 else 0

def r_collision_pair_names_axes(v_machine):
    t1 = v_machine.get('collision_pairs')
    t2 = v_machine.get('collision_pairs#partial')
    if t1 is None:
        t3 = None
    else:
        t3 = None if t2 else True
        for v_pair in metered(t1, 13):
            t6 = v_machine.get('axes')
            t7 = v_machine.get('axes#partial')
            if t6 is None or t7:
                t8 = None
            else:
                t9 = True
                t8 = 0
                t10 = v_pair.get('first')
                for v_axis in metered(matching(v_machine, 'axes', 'name', t10), 3):
                    t11 = v_axis.get('name')
                    t12 = v_pair.get('first')
                    t13 = None if t11 is None or t12 is None else t11 == t12
                    if t13 is False:
                        continue
                    if t13 is None:
                        t9 = False
                        break
                    t8 += 1
                t8 = t8 if t9 else None
            t14 = None if t8 is None else t8 >= 1
            t5 = t14
            if t5 is not False:
                t15 = v_machine.get('axes')
                t16 = v_machine.get('axes#partial')
                if t15 is None or t16:
                    t17 = None
                else:
                    t18 = True
                    t17 = 0
                    t19 = v_pair.get('second')
                    for v_axis in metered(matching(v_machine, 'axes', 'name', t19), 3):
                        t20 = v_axis.get('name')
                        t21 = v_pair.get('second')
                        t22 = None if t20 is None or t21 is None else t20 == t21
                        if t22 is False:
                            continue
                        if t22 is None:
                            t18 = False
                            break
                        t17 += 1
                    t17 = t17 if t18 else None
                t23 = None if t17 is None else t17 >= 1
                if t5 is None:
                    t5 = False if t23 is False else None
                else:
                    t5 = t23
            t4 = t5
            if t4 is not False:
                t24 = v_pair.get('first')
                t25 = v_pair.get('second')
                t26 = None if t24 is None or t25 is None else t24 == t25
                t27 = None if t26 is None else not t26
                if t4 is None:
                    t4 = False if t27 is False else None
                else:
                    t4 = t27
            if t4 is False:
                t3 = False
                break
            if t4 is None:
                t3 = None
    return None if t3 is None else 1 if t3 else 0

def r_homing_order_names_axes(v_axis, v_machine):
    t1 = v_axis.get('controller.homing')
    t2 = None if t1 is None else t1 is NONE
    t3 = None if t2 is None else not t2
    if t3 is not True:
        return 2 if t3 is False else None
    t4 = v_axis.get('homes_after_stranger')
    t5 = None if t4 is None else not t4
    return None if t5 is None else 1 if t5 else 0

def r_commutation_taught_with_fitted_pair(v_axis, v_machine):
    t1 = v_axis.get('motor.commutation')
    t2 = None if t1 is None else t1 is NONE
    t3 = None if t2 is None else not t2
    if t3 is not True:
        return 2 if t3 is False else None
    t5 = v_axis.get('motor.commutation.motor_serial')
    t6 = v_axis.get('motor.serial')
    t7 = None if t5 is None or t6 is None else t5 == t6
    t4 = t7
    if t4 is not False:
        t8 = v_axis.get('motor.commutation.encoder_serial')
        t9 = v_axis.get('encoder.serial')
        t10 = None if t8 is None or t9 is None else t8 == t9
        if t4 is None:
            t4 = False if t10 is False else None
        else:
            t4 = t10
    return None if t4 is None else 1 if t4 else 0

def r_records_are_not_of_tomorrow(v_axis, v_machine):
    t5 = v_axis.get('controller.homing')
    t6 = None if t5 is None else t5 is NONE
    t4 = t6
    if t4 is not True:
        t7 = v_axis.get('controller.homing.taught')
        t8 = None if t7 is None else t7 is NONE
        if t4 is None:
            t4 = True if t8 is True else None
        else:
            t4 = t8
    t3 = t4
    if t3 is not True:
        t9 = v_axis.get('controller.homing.taught.on')
        t10 = v_machine.get('check_date')
        t11 = None if t9 is None or t10 is None else t9 <= t10
        if t3 is None:
            t3 = True if t11 is True else None
        else:
            t3 = t11
    t2 = t3
    if t2 is not False:
        t13 = v_axis.get('motor.commutation')
        t14 = None if t13 is None else t13 is NONE
        t12 = t14
        if t12 is not True:
            t15 = v_axis.get('motor.commutation.on')
            t16 = v_machine.get('check_date')
            t17 = None if t15 is None or t16 is None else t15 <= t16
            if t12 is None:
                t12 = True if t17 is True else None
            else:
                t12 = t17
        if t2 is None:
            t2 = False if t12 is False else None
        else:
            t2 = t12
    t1 = t2
    if t1 is not False:
        t20 = d_axis__turns_need_battery(v_axis)
        t21 = None if t20 is None else not t20
        t19 = t21
        if t19 is not True:
            t22 = v_axis.get('encoder.turn_counter.battery')
            t23 = None if t22 is None else t22 is NONE
            if t19 is None:
                t19 = True if t23 is True else None
            else:
                t19 = t23
        t18 = t19
        if t18 is not True:
            t24 = v_axis.get('encoder.turn_counter.battery.fitted_on')
            t25 = v_machine.get('check_date')
            t26 = None if t24 is None or t25 is None else t24 <= t25
            if t18 is None:
                t18 = True if t26 is True else None
            else:
                t18 = t26
        if t1 is None:
            t1 = False if t18 is False else None
        else:
            t1 = t18
    return None if t1 is None else 1 if t1 else 0

def r_brake_releases_before_motion(v_axis, v_machine):
    t1 = v_axis.get('motor.brake')
    t2 = None if t1 is None else t1 is NONE
    t3 = None if t2 is None else not t2
    if t3 is not True:
        return 2 if t3 is False else None
    t4 = v_axis.get('motor.brake.release_time')
    t5 = v_axis.get('drive.brake_release_delay')
    t6 = None if t4 is None or t5 is None else t4 <= t5
    return None if t6 is None else 1 if t6 else 0

def r_brake_holds_before_torque_goes(v_axis, v_machine):
    t2 = v_axis.get('mechanics.vertical')
    t1 = t2
    if t1 is not False:
        t3 = v_axis.get('motor.brake')
        t4 = None if t3 is None else t3 is NONE
        t5 = None if t4 is None else not t4
        if t1 is None:
            t1 = False if t5 is False else None
        else:
            t1 = t5
    if t1 is not True:
        return 2 if t1 is False else None
    t6 = v_axis.get('motor.brake.apply_time')
    t7 = v_axis.get('drive.brake_off_delay')
    t8 = None if t6 is None or t7 is None else t6 - t7
    l_gap = t8
    t9 = d_axis__sag_acceleration(v_axis)
    t10 = None if t9 is None or l_gap is None else t9 * l_gap
    t11 = None if t10 is None or l_gap is None else t10 * l_gap
    t12 = None if t11 is None else div(t11, 2)
    l_sag = t12
    t13 = None if l_gap is None else l_gap <= 0
    return None if t13 is None else 1 if t13 else 0

def r_brake_voltage_fits(v_axis, v_machine):
    t2 = v_axis.get('motor.brake')
    t3 = None if t2 is None else t2 is NONE
    t4 = None if t3 is None else not t3
    t1 = t4
    if t1 is not False:
        t5 = v_axis.get('drive.brake_voltage')
        t6 = None if t5 is None else t5 is NONE
        t7 = None if t6 is None else not t6
        if t1 is None:
            t1 = False if t7 is False else None
        else:
            t1 = t7
    if t1 is not True:
        return 2 if t1 is False else None
    t8 = v_axis.get('drive.brake_voltage')
    if t8 is NONE:
        t8 = None
    t9 = v_axis.get('motor.brake.voltage')
    t10 = None if t8 is None or t9 is None else div(t8, t9)
    t11 = None if t10 is None else t10 - 1
    l_difference = t11
    t12 = None if l_difference is None else f_absolute(l_difference)
    t13 = v_axis.get('@s:brake_voltage_tolerance', Fraction(1, 10))
    t14 = None if t12 is None or t13 is None else t12 <= t13
    return None if t14 is None else 1 if t14 else 0

def r_suspended_load_caught_in_time(v_axis, v_machine):
    t5 = d_axis__hangs(v_axis)
    t4 = t5
    if t4 is not False:
        t6 = v_axis.get('motor.brake')
        t7 = None if t6 is None else t6 is NONE
        t8 = None if t7 is None else not t7
        if t4 is None:
            t4 = False if t8 is False else None
        else:
            t4 = t8
    t3 = t4
    if t3 is not False:
        t10 = v_axis.get('drive.stop_reaction.option')
        t11 = None if t10 is None else t10 == 'disable_at_once'
        t9 = t11
        if t9 is not True:
            t12 = v_axis.get('drive.stop_reaction.stop_category')
            t13 = None if t12 is None else eq(t12, 0)
            if t9 is None:
                t9 = True if t13 is True else None
            else:
                t9 = t13
        if t3 is None:
            t3 = False if t9 is False else None
        else:
            t3 = t9
    t2 = t3
    if t2 is not False:
        t14 = d_axis__brake_outdoes_gravity(v_axis)
        if t2 is None:
            t2 = False if t14 is False else None
        else:
            t2 = t14
    t1 = t2
    if t1 is not False:
        t15 = d_axis__speed_in_wrong_unit(v_axis)
        t16 = None if t15 is None else not t15
        if t1 is None:
            t1 = False if t16 is False else None
        else:
            t1 = t16
    if t1 is not True:
        return 2 if t1 is False else None
    t17 = d_axis__drop_at_power_off(v_axis)
    t18 = v_axis.get('mechanics.free_distance')
    t19 = None if t17 is None or t18 is None else t17 <= t18
    return None if t19 is None else 1 if t19 else 0

def r_power_cut_stops_before_hard_stop(v_axis, v_machine):
    t8 = d_axis__power_cut_at_stop(v_axis)
    t7 = t8
    if t7 is not False:
        t9 = v_axis.get('controller.type')
        t10 = None if t9 is None else t9 == 'linear'
        if t7 is None:
            t7 = False if t10 is False else None
        else:
            t7 = t10
    t6 = t7
    if t6 is not False:
        t11 = d_axis__switches_in_order(v_axis)
        if t6 is None:
            t6 = False if t11 is False else None
        else:
            t6 = t11
    t5 = t6
    if t5 is not False:
        t12 = d_axis__stops_in_order(v_axis)
        if t5 is None:
            t5 = False if t12 is False else None
        else:
            t5 = t12
    t4 = t5
    if t4 is not False:
        t13 = d_axis__speed_in_wrong_unit(v_axis)
        t14 = None if t13 is None else not t13
        if t4 is None:
            t4 = False if t14 is False else None
        else:
            t4 = t14
    t3 = t4
    if t3 is not False:
        t15 = v_axis.get('mechanics.limit_switches')
        t16 = None if t15 is None else t15 is NONE
        t17 = None if t16 is None else not t16
        if t3 is None:
            t3 = False if t17 is False else None
        else:
            t3 = t17
    t2 = t3
    if t2 is not False:
        t18 = v_axis.get('mechanics.travel')
        t19 = None if t18 is None else t18 is NONE
        t20 = None if t19 is None else not t19
        if t2 is None:
            t2 = False if t20 is False else None
        else:
            t2 = t20
    t1 = t2
    if t1 is not False:
        t22 = d_axis__hangs(v_axis)
        t23 = None if t22 is None else not t22
        t21 = t23
        if t21 is not True:
            t26 = v_axis.get('motor.brake')
            t27 = None if t26 is None else t26 is NONE
            t28 = None if t27 is None else not t27
            t25 = t28
            if t25 is not False:
                t29 = d_axis__brake_outdoes_gravity(v_axis)
                if t25 is None:
                    t25 = False if t29 is False else None
                else:
                    t25 = t29
            t24 = t25
            if t24 is not False:
                t31 = d_axis__drop_at_power_off(v_axis)
                t32 = v_axis.get('mechanics.free_distance')
                t33 = None if t31 is None or t32 is None else t31 <= t32
                t30 = t33
                if t30 is None and not ('#disputed' in v_axis and disputed(v_axis, ('controller.max_velocity', 'motion', 'mechanics.final.kind', 'mechanics.inclination', 'mechanics.vertical', 'mechanics.load_mass', 'mechanics.counterbalance', 'mechanics.final.lead', 'mechanics.final.starts', 'mechanics.final.pitch', 'mechanics.final.teeth', 'mechanics.final.helix', 'mechanics.final.module', 'mechanics.final.diameter', 'mechanics.stages', 'mechanics.stages[].motor_turns_per_load_turn', 'mechanics.stages[].load_side_teeth', 'mechanics.stages[].motor_side_teeth', 'mechanics.unbalanced_torque', 'motor.inertia', 'mechanics.transmission_inertia', 'mechanics.load_inertia', 'motor.brake.apply_time', 'motor.brake.holding_torque', 'motor.brake.holding_force', 'mechanics.free_distance'))):
                    t30 = True
                if t24 is None:
                    t24 = False if t30 is False else None
                else:
                    t24 = t30
            if t21 is None:
                t21 = True if t24 is True else None
            else:
                t21 = t24
        if t1 is None:
            t1 = False if t21 is False else None
        else:
            t1 = t21
    if t1 is not True:
        return 2 if t1 is False else None
    t34 = d_axis__hangs(v_axis)
    if t34 is None:
        t35 = None
    elif t34:
        t36 = d_axis__drop_at_power_off(v_axis)
        t35 = t36
    else:
        t37 = d_axis__run_without_torque(v_axis)
        t35 = t37
    l_run = t35
    t38 = v_axis.get('mechanics.limit_switches.negative')
    t39 = v_axis.get('mechanics.travel.min')
    t40 = None if t38 is None or t39 is None else t38 - t39
    l_below = t40
    t41 = v_axis.get('mechanics.travel.max')
    t42 = v_axis.get('mechanics.limit_switches.positive')
    t43 = None if t41 is None or t42 is None else t41 - t42
    l_above = t43
    t44 = d_axis__hangs(v_axis)
    t45 = None if t44 is None else not t44
    if t45 is None:
        t46 = None
    elif t45:
        t47 = None if l_below is None or l_above is None else f_smaller(l_below, l_above)
        t46 = t47
    else:
        t48 = v_axis.get('mechanics.falls_towards')
        t49 = None if t48 is None else t48 == 'negative'
        if t49 is None:
            t50 = None
        elif t49:
            t50 = l_below
        else:
            t50 = l_above
        t46 = t50
    t51 = None if l_run is None or t46 is None else l_run <= t46
    return None if t51 is None else 1 if t51 else 0

def r_axis_that_gravity_moves_is_noted(v_axis, v_machine):
    t2 = v_axis.get('motion')
    t3 = None if t2 is None else t2 == 'linear'
    t1 = t3
    if t1 is not False:
        t4 = v_axis.get('mechanics.vertical')
        t5 = None if t4 is None else not t4
        if t1 is None:
            t1 = False if t5 is False else None
        else:
            t1 = t5
    if t1 is not True:
        return 2 if t1 is False else None
    t9 = d_axis__weight_share(v_axis)
    t10 = None if t9 is None else t9 > 0
    t11 = None if t10 is None else not t10
    t8 = t11
    if t8 is not True:
        t12 = d_axis__gravity_force(v_axis)
        t13 = v_axis.get('mechanics.friction_force')
        t14 = None if t12 is None or t13 is None else t12 <= t13
        if t8 is None:
            t8 = True if t14 is True else None
        else:
            t8 = t14
    t7 = t8
    if t7 is not True:
        t16 = d_axis__has_driving_shaft(v_axis)
        t15 = t16
        if t15 is not False:
            t17 = v_axis.get('mechanics.efficiency')
            t18 = v_axis.get('@s:self_locking_efficiency', Fraction(1, 2))
            t19 = None if t17 is None or t18 is None else t17 <= t18
            if t15 is None:
                t15 = False if t19 is False else None
            else:
                t15 = t19
        if t7 is None:
            t7 = True if t15 is True else None
        else:
            t7 = t15
    t6 = t7
    if t6 is not True:
        t20 = v_axis.get('mechanics.stages')
        t21 = v_axis.get('mechanics.stages#partial')
        if t20 is None:
            t22 = None
        else:
            t22 = None if t21 else False
            for v_stage in t20:
                t23 = v_stage.get('kind')
                t24 = None if t23 is None else t23 == 'worm'
                if t24 is True:
                    t22 = True
                    break
                if t24 is None:
                    t22 = None
        if t6 is None:
            t6 = True if t22 is True else None
        else:
            t6 = t22
    return None if t6 is None else 1 if t6 else 0

def r_axis_that_gravity_turns_is_noted(v_axis, v_machine):
    t2 = v_axis.get('motion')
    t3 = None if t2 is None else t2 == 'rotary'
    t1 = t3
    if t1 is not False:
        t4 = v_axis.get('mechanics.vertical')
        t5 = None if t4 is None else not t4
        if t1 is None:
            t1 = False if t5 is False else None
        else:
            t1 = t5
    if t1 is not True:
        return 2 if t1 is False else None
    t7 = v_axis.get('mechanics.unbalanced_torque')
    t6 = t7
    if t6 is None and not ('#disputed' in v_axis and disputed(v_axis, ('mechanics.unbalanced_torque',))):
        t6 = 0
    l_pull = t6
    t11 = None if l_pull is None else eq(l_pull, 0)
    t10 = t11
    if t10 is not True:
        t12 = v_axis.get('mechanics.friction_torque')
        t13 = None if l_pull is None or t12 is None else l_pull <= t12
        if t10 is None:
            t10 = True if t13 is True else None
        else:
            t10 = t13
    t9 = t10
    if t9 is not True:
        t15 = v_axis.get('mechanics.efficiency')
        t16 = v_axis.get('@s:self_locking_efficiency', Fraction(1, 2))
        t17 = None if t15 is None or t16 is None else t15 <= t16
        t14 = t17
        if t14 is not False:
            t18 = v_axis.get('mechanics.stages')
            t19 = v_axis.get('mechanics.stages#partial')
            if t18 is None or t19:
                t20 = None
            else:
                t21 = True
                t20 = 0
                for v_stage in t18:
                    t20 += 1
                t20 = t20 if t21 else None
            t22 = None if t20 is None else t20 > 0
            if t14 is None:
                t14 = False if t22 is False else None
            else:
                t14 = t22
        if t9 is None:
            t9 = True if t14 is True else None
        else:
            t9 = t14
    t8 = t9
    if t8 is not True:
        t23 = v_axis.get('mechanics.stages')
        t24 = v_axis.get('mechanics.stages#partial')
        if t23 is None:
            t25 = None
        else:
            t25 = None if t24 else False
            for v_stage in t23:
                t26 = v_stage.get('kind')
                t27 = None if t26 is None else t26 == 'worm'
                if t27 is True:
                    t25 = True
                    break
                if t27 is None:
                    t25 = None
        if t8 is None:
            t8 = True if t25 is True else None
        else:
            t8 = t25
    return None if t8 is None else 1 if t8 else 0

def r_stop_option_agrees_with_category(v_axis, v_machine):
    t2 = v_axis.get('controller.type')
    t3 = None if t2 is None else t2 == 'linear'
    t1 = t3
    if t1 is not True:
        t5 = v_axis.get('drive.stop_reaction.stop_category')
        t6 = None if t5 is None else t5 >= 0
        t4 = t6
        if t4 is None and not ('#disputed' in v_axis and disputed(v_axis, ('drive.stop_reaction.stop_category',))):
            t4 = False
        if t1 is None:
            t1 = True if t4 is True else None
        else:
            t1 = t4
    if t1 is not True:
        return 2 if t1 is False else None
    t8 = v_axis.get('drive.stop_reaction.option')
    t9 = None if t8 is None else t8 == 'disable_at_once'
    t10 = v_axis.get('drive.stop_reaction.stop_category')
    t11 = None if t10 is None else eq(t10, 0)
    t12 = None if t9 is None or t11 is None else t9 == t11
    t7 = t12
    if t7 is not False:
        t13 = v_axis.get('drive.stop_reaction.option')
        t14 = None if t13 is None else t13 in ('slow_down_and_hold', 'quick_stop_and_hold',)
        t15 = v_axis.get('drive.stop_reaction.stop_category')
        t16 = None if t15 is None else eq(t15, 2)
        t17 = None if t14 is None or t16 is None else t14 == t16
        if t7 is None:
            t7 = False if t17 is False else None
        else:
            t7 = t17
    return None if t7 is None else 1 if t7 else 0

def r_changed_scaling_is_taught_again(v_before, v_after, v_machine):
    t4 = v_before.get('motion')
    t5 = v_after.get('motion')
    t6 = None if t4 is None or t5 is None else t4 == t5
    t3 = t6
    if t3 is not False:
        t7 = d_axis__counts_per_unit(v_before)
        t8 = d_axis__counts_per_unit(v_after)
        t9 = None if t7 is None or t8 is None else eq(t7, t8)
        t10 = None if t9 is None else not t9
        if t3 is None:
            t3 = False if t10 is False else None
        else:
            t3 = t10
    t2 = t3
    if t2 is not False:
        t11 = v_after.get('encoder.kind')
        t12 = None if t11 is None else t11 == 'incremental'
        t13 = None if t12 is None else not t12
        if t2 is None:
            t2 = False if t13 is False else None
        else:
            t2 = t13
    t1 = t2
    if t1 is not False:
        t14 = v_after.get('controller.homing')
        t15 = None if t14 is None else t14 is NONE
        t16 = None if t15 is None else not t15
        if t1 is None:
            t1 = False if t16 is False else None
        else:
            t1 = t16
    if t1 is not True:
        return 2 if t1 is False else None
    t18 = v_after.get('controller.homing.taught')
    t19 = None if t18 is None else t18 is NONE
    t20 = None if t19 is None else not t19
    t17 = t20
    if t17 is not False:
        t22 = v_before.get('controller.homing.taught')
        t23 = None if t22 is None else t22 is NONE
        t21 = t23
        if t21 is not True:
            t24 = v_after.get('controller.homing.taught.on')
            t25 = v_before.get('controller.homing.taught.on')
            t26 = None if t24 is None or t25 is None else t24 > t25
            if t21 is None:
                t21 = True if t26 is True else None
            else:
                t21 = t26
        if t17 is None:
            t17 = False if t21 is False else None
        else:
            t17 = t21
    return None if t17 is None else 1 if t17 else 0

def r_changed_scaling_moves_limits(v_before, v_after, v_machine):
    t6 = v_before.get('motion')
    t7 = v_after.get('motion')
    t8 = None if t6 is None or t7 is None else t6 == t7
    t5 = t8
    if t5 is not False:
        t9 = d_axis__counts_per_unit(v_before)
        t10 = d_axis__counts_per_unit(v_after)
        t11 = None if t9 is None or t10 is None else eq(t9, t10)
        t12 = None if t11 is None else not t11
        if t5 is None:
            t5 = False if t12 is False else None
        else:
            t5 = t12
    t4 = t5
    if t4 is not False:
        t13 = v_after.get('encoder.kind')
        t14 = None if t13 is None else t13 == 'incremental'
        if t4 is None:
            t4 = False if t14 is False else None
        else:
            t4 = t14
    t3 = t4
    if t3 is not False:
        t15 = v_after.get('controller.type')
        t16 = None if t15 is None else t15 == 'linear'
        if t3 is None:
            t3 = False if t16 is False else None
        else:
            t3 = t16
    t2 = t3
    if t2 is not False:
        t17 = v_before.get('controller.software_limits')
        t18 = None if t17 is None else t17 is NONE
        t19 = None if t18 is None else not t18
        if t2 is None:
            t2 = False if t19 is False else None
        else:
            t2 = t19
    t1 = t2
    if t1 is not False:
        t20 = v_after.get('controller.software_limits')
        t21 = None if t20 is None else t20 is NONE
        t22 = None if t21 is None else not t21
        if t1 is None:
            t1 = False if t22 is False else None
        else:
            t1 = t22
    if t1 is not True:
        return 2 if t1 is False else None
    t25 = v_before.get('controller.software_limits.min')
    t26 = v_after.get('controller.software_limits.min')
    t27 = None if t25 is None or t26 is None else eq(t25, t26)
    t24 = t27
    if t24 is not False:
        t28 = v_before.get('controller.software_limits.max')
        t29 = v_after.get('controller.software_limits.max')
        t30 = None if t28 is None or t29 is None else eq(t28, t29)
        if t24 is None:
            t24 = False if t30 is False else None
        else:
            t24 = t30
    t31 = None if t24 is None else not t24
    t23 = t31
    if t23 is not True:
        t33 = v_after.get('controller.homing.taught')
        t34 = None if t33 is None else t33 is NONE
        t35 = None if t34 is None else not t34
        t32 = t35
        if t32 is not False:
            t37 = v_before.get('controller.homing.taught')
            t38 = None if t37 is None else t37 is NONE
            t36 = t38
            if t36 is not True:
                t39 = v_after.get('controller.homing.taught.on')
                t40 = v_before.get('controller.homing.taught.on')
                t41 = None if t39 is None or t40 is None else t39 > t40
                if t36 is None:
                    t36 = True if t41 is True else None
                else:
                    t36 = t41
            if t32 is None:
                t32 = False if t36 is False else None
            else:
                t32 = t36
        if t23 is None:
            t23 = True if t32 is True else None
        else:
            t23 = t32
    return None if t23 is None else 1 if t23 else 0

def r_changed_scaling_moves_cycle(v_before, v_after, v_machine):
    t5 = v_before.get('motion')
    t6 = v_after.get('motion')
    t7 = None if t5 is None or t6 is None else t5 == t6
    t4 = t7
    if t4 is not False:
        t8 = d_axis__counts_per_unit(v_before)
        t9 = d_axis__counts_per_unit(v_after)
        t10 = None if t8 is None or t9 is None else eq(t8, t9)
        t11 = None if t10 is None else not t10
        if t4 is None:
            t4 = False if t11 is False else None
        else:
            t4 = t11
    t3 = t4
    if t3 is not False:
        t12 = v_after.get('encoder.kind')
        t13 = None if t12 is None else t12 == 'incremental'
        if t3 is None:
            t3 = False if t13 is False else None
        else:
            t3 = t13
    t2 = t3
    if t2 is not False:
        t14 = v_before.get('controller.type')
        t15 = None if t14 is None else t14 == 'modulo'
        if t2 is None:
            t2 = False if t15 is False else None
        else:
            t2 = t15
    t1 = t2
    if t1 is not False:
        t16 = v_after.get('controller.type')
        t17 = None if t16 is None else t16 == 'modulo'
        if t1 is None:
            t1 = False if t17 is False else None
        else:
            t1 = t17
    if t1 is not True:
        return 2 if t1 is False else None
    t19 = v_before.get('controller.cycle')
    t20 = v_after.get('controller.cycle')
    t21 = None if t19 is None or t20 is None else eq(t19, t20)
    t22 = None if t21 is None else not t21
    t18 = t22
    if t18 is not True:
        t24 = v_after.get('controller.homing.taught')
        t25 = None if t24 is None else t24 is NONE
        t26 = None if t25 is None else not t25
        t23 = t26
        if t23 is not False:
            t28 = v_before.get('controller.homing.taught')
            t29 = None if t28 is None else t28 is NONE
            t27 = t29
            if t27 is not True:
                t30 = v_after.get('controller.homing.taught.on')
                t31 = v_before.get('controller.homing.taught.on')
                t32 = None if t30 is None or t31 is None else t30 > t31
                if t27 is None:
                    t27 = True if t32 is True else None
                else:
                    t27 = t32
            if t23 is None:
                t23 = False if t27 is False else None
            else:
                t23 = t27
        if t18 is None:
            t18 = True if t23 is True else None
        else:
            t18 = t23
    return None if t18 is None else 1 if t18 else 0

def r_replaced_encoder_is_taught_again(v_before, v_after, v_machine):
    t3 = v_before.get('encoder.serial')
    t4 = v_after.get('encoder.serial')
    t5 = None if t3 is None or t4 is None else t3 == t4
    t6 = None if t5 is None else not t5
    t2 = t6
    if t2 is not False:
        t7 = v_after.get('controller.homing')
        t8 = None if t7 is None else t7 is NONE
        t9 = None if t8 is None else not t8
        if t2 is None:
            t2 = False if t9 is False else None
        else:
            t2 = t9
    t1 = t2
    if t1 is not False:
        t10 = d_axis__reference_moves_with_encoder(v_after)
        if t1 is None:
            t1 = False if t10 is False else None
        else:
            t1 = t10
    if t1 is not True:
        return 2 if t1 is False else None
    t12 = v_after.get('controller.homing.taught')
    t13 = None if t12 is None else t12 is NONE
    t14 = None if t13 is None else not t13
    t11 = t14
    if t11 is not False:
        t16 = v_before.get('controller.homing.taught')
        t17 = None if t16 is None else t16 is NONE
        t15 = t17
        if t15 is not True:
            t18 = v_after.get('controller.homing.taught.on')
            t19 = v_before.get('controller.homing.taught.on')
            t20 = None if t18 is None or t19 is None else t18 > t19
            if t15 is None:
                t15 = True if t20 is True else None
            else:
                t15 = t20
        if t11 is None:
            t11 = False if t15 is False else None
        else:
            t11 = t15
    return None if t11 is None else 1 if t11 else 0

def r_replaced_motor_is_taught_again(v_before, v_after, v_machine):
    t4 = v_before.get('motor.serial')
    t5 = v_after.get('motor.serial')
    t6 = None if t4 is None or t5 is None else t4 == t5
    t7 = None if t6 is None else not t6
    t3 = t7
    if t3 is not False:
        t8 = v_after.get('controller.homing')
        t9 = None if t8 is None else t8 is NONE
        t10 = None if t9 is None else not t9
        if t3 is None:
            t3 = False if t10 is False else None
        else:
            t3 = t10
    t2 = t3
    if t2 is not False:
        t11 = v_before.get('encoder.serial')
        t12 = v_after.get('encoder.serial')
        t13 = None if t11 is None or t12 is None else t11 == t12
        if t2 is None:
            t2 = False if t13 is False else None
        else:
            t2 = t13
    t1 = t2
    if t1 is not False:
        t14 = d_axis__reference_moves_with_motor(v_after)
        if t1 is None:
            t1 = False if t14 is False else None
        else:
            t1 = t14
    if t1 is not True:
        return 2 if t1 is False else None
    t16 = v_after.get('controller.homing.taught')
    t17 = None if t16 is None else t16 is NONE
    t18 = None if t17 is None else not t17
    t15 = t18
    if t15 is not False:
        t20 = v_before.get('controller.homing.taught')
        t21 = None if t20 is None else t20 is NONE
        t19 = t21
        if t19 is not True:
            t22 = v_after.get('controller.homing.taught.on')
            t23 = v_before.get('controller.homing.taught.on')
            t24 = None if t22 is None or t23 is None else t22 > t23
            if t19 is None:
                t19 = True if t24 is True else None
            else:
                t19 = t24
        if t15 is None:
            t15 = False if t19 is False else None
        else:
            t15 = t19
    return None if t15 is None else 1 if t15 else 0

def r_replaced_drive_is_taught_again(v_before, v_after, v_machine):
    t3 = v_before.get('drive.serial')
    t4 = v_after.get('drive.serial')
    t5 = None if t3 is None or t4 is None else t3 == t4
    t6 = None if t5 is None else not t5
    t2 = t6
    if t2 is not False:
        t7 = v_after.get('controller.homing')
        t8 = None if t7 is None else t7 is NONE
        t9 = None if t8 is None else not t8
        if t2 is None:
            t2 = False if t9 is False else None
        else:
            t2 = t9
    t1 = t2
    if t1 is not False:
        t10 = d_axis__reference_leaves_with_drive(v_after)
        if t1 is None:
            t1 = False if t10 is False else None
        else:
            t1 = t10
    if t1 is not True:
        return 2 if t1 is False else None
    t12 = v_after.get('controller.homing.taught')
    t13 = None if t12 is None else t12 is NONE
    t14 = None if t13 is None else not t13
    t11 = t14
    if t11 is not False:
        t16 = v_before.get('controller.homing.taught')
        t17 = None if t16 is None else t16 is NONE
        t15 = t17
        if t15 is not True:
            t18 = v_after.get('controller.homing.taught.on')
            t19 = v_before.get('controller.homing.taught.on')
            t20 = None if t18 is None or t19 is None else t18 > t19
            if t15 is None:
                t15 = True if t20 is True else None
            else:
                t15 = t20
        if t11 is None:
            t11 = False if t15 is False else None
        else:
            t11 = t15
    return None if t11 is None else 1 if t11 else 0

def r_replaced_parts_have_commutation_taught(v_before, v_after, v_machine):
    t4 = v_before.get('motor.serial')
    t5 = v_after.get('motor.serial')
    t6 = None if t4 is None or t5 is None else t4 == t5
    t7 = None if t6 is None else not t6
    t3 = t7
    if t3 is not True:
        t8 = v_before.get('encoder.serial')
        t9 = v_after.get('encoder.serial')
        t10 = None if t8 is None or t9 is None else t8 == t9
        t11 = None if t10 is None else not t10
        if t3 is None:
            t3 = True if t11 is True else None
        else:
            t3 = t11
    t2 = t3
    if t2 is not False:
        t12 = v_before.get('motor.commutation')
        t13 = None if t12 is None else t12 is NONE
        t14 = None if t13 is None else not t13
        if t2 is None:
            t2 = False if t14 is False else None
        else:
            t2 = t14
    t1 = t2
    if t1 is not False:
        t15 = v_after.get('motor.commutation')
        t16 = None if t15 is None else t15 is NONE
        t17 = None if t16 is None else not t16
        if t1 is None:
            t1 = False if t17 is False else None
        else:
            t1 = t17
    if t1 is not True:
        return 2 if t1 is False else None
    t18 = v_after.get('motor.commutation.on')
    t19 = v_before.get('motor.commutation.on')
    t20 = None if t18 is None or t19 is None else t18 > t19
    return None if t20 is None else 1 if t20 else 0

def r_turn_count_changed_on_both_sides(v_before, v_after, v_machine):
    t2 = v_after.get('encoder.kind')
    t3 = None if t2 is None else t2 == 'absolute_multiturn'
    t1 = t3
    if t1 is not False:
        t4 = v_before.get('encoder.distinguishable_revolutions')
        t5 = v_after.get('encoder.distinguishable_revolutions')
        t6 = None if t4 is None or t5 is None else eq(t4, t5)
        t7 = v_before.get('drive.distinguishable_revolutions')
        t8 = v_after.get('drive.distinguishable_revolutions')
        t9 = None if t7 is None or t8 is None else eq(t7, t8)
        t10 = None if t6 is None or t9 is None else t6 == t9
        t11 = None if t10 is None else not t10
        if t1 is None:
            t1 = False if t11 is False else None
        else:
            t1 = t11
    if t1 is not True:
        return 2 if t1 is False else None
    t12 = v_after.get('encoder.distinguishable_revolutions')
    t13 = v_after.get('drive.distinguishable_revolutions')
    t14 = None if t12 is None or t13 is None else eq(t12, t13)
    return None if t14 is None else 1 if t14 else 0

def r_changed_turn_count_is_taught_again(v_before, v_after, v_machine):
    t3 = v_before.get('encoder.distinguishable_revolutions')
    t4 = v_after.get('encoder.distinguishable_revolutions')
    t5 = None if t3 is None or t4 is None else eq(t3, t4)
    t6 = None if t5 is None else not t5
    t2 = t6
    if t2 is not False:
        t7 = d_axis__relies_on_turn_counter(v_after)
        if t2 is None:
            t2 = False if t7 is False else None
        else:
            t2 = t7
    t1 = t2
    if t1 is not False:
        t8 = v_after.get('controller.homing')
        t9 = None if t8 is None else t8 is NONE
        t10 = None if t9 is None else not t9
        if t1 is None:
            t1 = False if t10 is False else None
        else:
            t1 = t10
    if t1 is not True:
        return 2 if t1 is False else None
    t12 = v_after.get('controller.homing.taught')
    t13 = None if t12 is None else t12 is NONE
    t14 = None if t13 is None else not t13
    t11 = t14
    if t11 is not False:
        t16 = v_before.get('controller.homing.taught')
        t17 = None if t16 is None else t16 is NONE
        t15 = t17
        if t15 is not True:
            t18 = v_after.get('controller.homing.taught.on')
            t19 = v_before.get('controller.homing.taught.on')
            t20 = None if t18 is None or t19 is None else t18 > t19
            if t15 is None:
                t15 = True if t20 is True else None
            else:
                t15 = t20
        if t11 is None:
            t11 = False if t15 is False else None
        else:
            t11 = t15
    return None if t11 is None else 1 if t11 else 0

def r_turned_direction_is_taught_again(v_before, v_after, v_machine):
    t3 = d_axis__counts_rise_with_position(v_before)
    t4 = d_axis__counts_rise_with_position(v_after)
    t5 = None if t3 is None or t4 is None else t3 == t4
    t6 = None if t5 is None else not t5
    t2 = t6
    if t2 is not False:
        t7 = v_after.get('encoder.kind')
        t8 = None if t7 is None else t7 == 'incremental'
        t9 = None if t8 is None else not t8
        if t2 is None:
            t2 = False if t9 is False else None
        else:
            t2 = t9
    t1 = t2
    if t1 is not False:
        t10 = v_after.get('controller.homing')
        t11 = None if t10 is None else t10 is NONE
        t12 = None if t11 is None else not t11
        if t1 is None:
            t1 = False if t12 is False else None
        else:
            t1 = t12
    if t1 is not True:
        return 2 if t1 is False else None
    t14 = v_after.get('controller.homing.taught')
    t15 = None if t14 is None else t14 is NONE
    t16 = None if t15 is None else not t15
    t13 = t16
    if t13 is not False:
        t18 = v_before.get('controller.homing.taught')
        t19 = None if t18 is None else t18 is NONE
        t17 = t19
        if t17 is not True:
            t20 = v_after.get('controller.homing.taught.on')
            t21 = v_before.get('controller.homing.taught.on')
            t22 = None if t20 is None or t21 is None else t20 > t21
            if t17 is None:
                t17 = True if t22 is True else None
            else:
                t17 = t22
        if t13 is None:
            t13 = False if t17 is False else None
        else:
            t13 = t17
    return None if t13 is None else 1 if t13 else 0

def r_changed_homing_is_taught_again(v_before, v_after, v_machine):
    t3 = v_before.get('controller.homing')
    t4 = None if t3 is None else t3 is NONE
    t5 = None if t4 is None else not t4
    t2 = t5
    if t2 is not False:
        t6 = v_after.get('controller.homing')
        t7 = None if t6 is None else t6 is NONE
        t8 = None if t7 is None else not t7
        if t2 is None:
            t2 = False if t8 is False else None
        else:
            t2 = t8
    t1 = t2
    if t1 is not False:
        t9 = v_before.get('controller.homing.method')
        t10 = v_after.get('controller.homing.method')
        t11 = None if t9 is None or t10 is None else t9 == t10
        t12 = None if t11 is None else not t11
        if t1 is None:
            t1 = False if t12 is False else None
        else:
            t1 = t12
    if t1 is not True:
        return 2 if t1 is False else None
    t14 = v_after.get('controller.homing.taught')
    t15 = None if t14 is None else t14 is NONE
    t16 = None if t15 is None else not t15
    t13 = t16
    if t13 is not False:
        t18 = v_before.get('controller.homing.taught')
        t19 = None if t18 is None else t18 is NONE
        t17 = t19
        if t17 is not True:
            t20 = v_after.get('controller.homing.taught.on')
            t21 = v_before.get('controller.homing.taught.on')
            t22 = None if t20 is None or t21 is None else t20 > t21
            if t17 is None:
                t17 = True if t22 is True else None
            else:
                t17 = t22
        if t13 is None:
            t13 = False if t17 is False else None
        else:
            t13 = t17
    return None if t13 is None else 1 if t13 else 0

def r_moved_reference_has_a_record(v_before, v_after, v_machine):
    t4 = v_before.get('motion')
    t5 = v_after.get('motion')
    t6 = None if t4 is None or t5 is None else t4 == t5
    t3 = t6
    if t3 is not False:
        t7 = v_before.get('controller.homing')
        t8 = None if t7 is None else t7 is NONE
        t9 = None if t8 is None else not t8
        if t3 is None:
            t3 = False if t9 is False else None
        else:
            t3 = t9
    t2 = t3
    if t2 is not False:
        t10 = v_after.get('controller.homing')
        t11 = None if t10 is None else t10 is NONE
        t12 = None if t11 is None else not t11
        if t2 is None:
            t2 = False if t12 is False else None
        else:
            t2 = t12
    t1 = t2
    if t1 is not False:
        t13 = v_before.get('controller.homing.reference_position')
        t14 = v_after.get('controller.homing.reference_position')
        t15 = None if t13 is None or t14 is None else eq(t13, t14)
        t16 = None if t15 is None else not t15
        if t1 is None:
            t1 = False if t16 is False else None
        else:
            t1 = t16
    if t1 is not True:
        return 2 if t1 is False else None
    t18 = v_after.get('controller.homing.taught')
    t19 = None if t18 is None else t18 is NONE
    t20 = None if t19 is None else not t19
    t17 = t20
    if t17 is not False:
        t22 = v_before.get('controller.homing.taught')
        t23 = None if t22 is None else t22 is NONE
        t21 = t23
        if t21 is not True:
            t24 = v_after.get('controller.homing.taught.on')
            t25 = v_before.get('controller.homing.taught.on')
            t26 = None if t24 is None or t25 is None else t24 > t25
            if t21 is None:
                t21 = True if t26 is True else None
            else:
                t21 = t26
        if t17 is None:
            t17 = False if t21 is False else None
        else:
            t17 = t21
    return None if t17 is None else 1 if t17 else 0

def r_interlock_triggers_are_kept(v_before, v_after, v_machine):
    t7 = v_before.get('interlocks')
    t8 = v_before.get('interlocks#partial')
    if t7 is None:
        t9 = None
    else:
        t9 = None if t8 else True
        for v_old in t7:
            t11 = v_old.get('triggers')
            t12 = v_old.get('triggers#partial')
            if t11 is None:
                t13 = None
            elif 'position_lost' in charged(t11, 0.1):
                t13 = True
            else:
                t13 = None if t12 else False
            t14 = None if t13 is None else not t13
            t10 = t14
            if t10 is not True:
                t15 = v_after.get('interlocks')
                t16 = v_after.get('interlocks#partial')
                if t15 is None:
                    t17 = None
                else:
                    t17 = None if t16 else False
                    for v_lock in metered(t15, 4):
                        t18 = v_lock.get('triggers')
                        t19 = v_lock.get('triggers#partial')
                        if t18 is None:
                            t20 = None
                        elif 'position_lost' in charged(t18, 0.1):
                            t20 = True
                        else:
                            t20 = None if t19 else False
                        if t20 is True:
                            t17 = True
                            break
                        if t20 is None:
                            t17 = None
                if t10 is None:
                    t10 = True if t17 is True else None
                else:
                    t10 = t17
            if t10 is False:
                t9 = False
                break
            if t10 is None:
                t9 = None
    t6 = t9
    if t6 is not False:
        t21 = v_before.get('interlocks')
        t22 = v_before.get('interlocks#partial')
        if t21 is None:
            t23 = None
        else:
            t23 = None if t22 else True
            for v_old in t21:
                t25 = v_old.get('triggers')
                t26 = v_old.get('triggers#partial')
                if t25 is None:
                    t27 = None
                elif 'turn_count_disagreement' in charged(t25, 0.1):
                    t27 = True
                else:
                    t27 = None if t26 else False
                t28 = None if t27 is None else not t27
                t24 = t28
                if t24 is not True:
                    t29 = v_after.get('interlocks')
                    t30 = v_after.get('interlocks#partial')
                    if t29 is None:
                        t31 = None
                    else:
                        t31 = None if t30 else False
                        for v_lock in metered(t29, 4):
                            t32 = v_lock.get('triggers')
                            t33 = v_lock.get('triggers#partial')
                            if t32 is None:
                                t34 = None
                            elif 'turn_count_disagreement' in charged(t32, 0.1):
                                t34 = True
                            else:
                                t34 = None if t33 else False
                            if t34 is True:
                                t31 = True
                                break
                            if t34 is None:
                                t31 = None
                    if t24 is None:
                        t24 = True if t31 is True else None
                    else:
                        t24 = t31
                if t24 is False:
                    t23 = False
                    break
                if t24 is None:
                    t23 = None
        if t6 is None:
            t6 = False if t23 is False else None
        else:
            t6 = t23
    t5 = t6
    if t5 is not False:
        t35 = v_before.get('interlocks')
        t36 = v_before.get('interlocks#partial')
        if t35 is None:
            t37 = None
        else:
            t37 = None if t36 else True
            for v_old in t35:
                t39 = v_old.get('triggers')
                t40 = v_old.get('triggers#partial')
                if t39 is None:
                    t41 = None
                elif 'battery_low_at_power_up' in charged(t39, 0.1):
                    t41 = True
                else:
                    t41 = None if t40 else False
                t42 = None if t41 is None else not t41
                t38 = t42
                if t38 is not True:
                    t43 = v_after.get('interlocks')
                    t44 = v_after.get('interlocks#partial')
                    if t43 is None:
                        t45 = None
                    else:
                        t45 = None if t44 else False
                        for v_lock in metered(t43, 4):
                            t46 = v_lock.get('triggers')
                            t47 = v_lock.get('triggers#partial')
                            if t46 is None:
                                t48 = None
                            elif 'battery_low_at_power_up' in charged(t46, 0.1):
                                t48 = True
                            else:
                                t48 = None if t47 else False
                            if t48 is True:
                                t45 = True
                                break
                            if t48 is None:
                                t45 = None
                    if t38 is None:
                        t38 = True if t45 is True else None
                    else:
                        t38 = t45
                if t38 is False:
                    t37 = False
                    break
                if t38 is None:
                    t37 = None
        if t5 is None:
            t5 = False if t37 is False else None
        else:
            t5 = t37
    t4 = t5
    if t4 is not False:
        t49 = v_before.get('interlocks')
        t50 = v_before.get('interlocks#partial')
        if t49 is None:
            t51 = None
        else:
            t51 = None if t50 else True
            for v_old in t49:
                t53 = v_old.get('triggers')
                t54 = v_old.get('triggers#partial')
                if t53 is None:
                    t55 = None
                elif 'battery_dead_at_power_up' in charged(t53, 0.1):
                    t55 = True
                else:
                    t55 = None if t54 else False
                t56 = None if t55 is None else not t55
                t52 = t56
                if t52 is not True:
                    t57 = v_after.get('interlocks')
                    t58 = v_after.get('interlocks#partial')
                    if t57 is None:
                        t59 = None
                    else:
                        t59 = None if t58 else False
                        for v_lock in metered(t57, 4):
                            t60 = v_lock.get('triggers')
                            t61 = v_lock.get('triggers#partial')
                            if t60 is None:
                                t62 = None
                            elif 'battery_dead_at_power_up' in charged(t60, 0.1):
                                t62 = True
                            else:
                                t62 = None if t61 else False
                            if t62 is True:
                                t59 = True
                                break
                            if t62 is None:
                                t59 = None
                    if t52 is None:
                        t52 = True if t59 is True else None
                    else:
                        t52 = t59
                if t52 is False:
                    t51 = False
                    break
                if t52 is None:
                    t51 = None
        if t4 is None:
            t4 = False if t51 is False else None
        else:
            t4 = t51
    t3 = t4
    if t3 is not False:
        t63 = v_before.get('interlocks')
        t64 = v_before.get('interlocks#partial')
        if t63 is None:
            t65 = None
        else:
            t65 = None if t64 else True
            for v_old in t63:
                t67 = v_old.get('triggers')
                t68 = v_old.get('triggers#partial')
                if t67 is None:
                    t69 = None
                elif 'encoder_replaced' in charged(t67, 0.1):
                    t69 = True
                else:
                    t69 = None if t68 else False
                t70 = None if t69 is None else not t69
                t66 = t70
                if t66 is not True:
                    t71 = v_after.get('interlocks')
                    t72 = v_after.get('interlocks#partial')
                    if t71 is None:
                        t73 = None
                    else:
                        t73 = None if t72 else False
                        for v_lock in metered(t71, 4):
                            t74 = v_lock.get('triggers')
                            t75 = v_lock.get('triggers#partial')
                            if t74 is None:
                                t76 = None
                            elif 'encoder_replaced' in charged(t74, 0.1):
                                t76 = True
                            else:
                                t76 = None if t75 else False
                            if t76 is True:
                                t73 = True
                                break
                            if t76 is None:
                                t73 = None
                    if t66 is None:
                        t66 = True if t73 is True else None
                    else:
                        t66 = t73
                if t66 is False:
                    t65 = False
                    break
                if t66 is None:
                    t65 = None
        if t3 is None:
            t3 = False if t65 is False else None
        else:
            t3 = t65
    t2 = t3
    if t2 is not False:
        t77 = v_before.get('interlocks')
        t78 = v_before.get('interlocks#partial')
        if t77 is None:
            t79 = None
        else:
            t79 = None if t78 else True
            for v_old in t77:
                t81 = v_old.get('triggers')
                t82 = v_old.get('triggers#partial')
                if t81 is None:
                    t83 = None
                elif 'motor_replaced' in charged(t81, 0.1):
                    t83 = True
                else:
                    t83 = None if t82 else False
                t84 = None if t83 is None else not t83
                t80 = t84
                if t80 is not True:
                    t85 = v_after.get('interlocks')
                    t86 = v_after.get('interlocks#partial')
                    if t85 is None:
                        t87 = None
                    else:
                        t87 = None if t86 else False
                        for v_lock in metered(t85, 4):
                            t88 = v_lock.get('triggers')
                            t89 = v_lock.get('triggers#partial')
                            if t88 is None:
                                t90 = None
                            elif 'motor_replaced' in charged(t88, 0.1):
                                t90 = True
                            else:
                                t90 = None if t89 else False
                            if t90 is True:
                                t87 = True
                                break
                            if t90 is None:
                                t87 = None
                    if t80 is None:
                        t80 = True if t87 is True else None
                    else:
                        t80 = t87
                if t80 is False:
                    t79 = False
                    break
                if t80 is None:
                    t79 = None
        if t2 is None:
            t2 = False if t79 is False else None
        else:
            t2 = t79
    t1 = t2
    if t1 is not False:
        t91 = v_before.get('interlocks')
        t92 = v_before.get('interlocks#partial')
        if t91 is None:
            t93 = None
        else:
            t93 = None if t92 else True
            for v_old in t91:
                t95 = v_old.get('triggers')
                t96 = v_old.get('triggers#partial')
                if t95 is None:
                    t97 = None
                elif 'drive_replaced' in charged(t95, 0.1):
                    t97 = True
                else:
                    t97 = None if t96 else False
                t98 = None if t97 is None else not t97
                t94 = t98
                if t94 is not True:
                    t99 = v_after.get('interlocks')
                    t100 = v_after.get('interlocks#partial')
                    if t99 is None:
                        t101 = None
                    else:
                        t101 = None if t100 else False
                        for v_lock in metered(t99, 4):
                            t102 = v_lock.get('triggers')
                            t103 = v_lock.get('triggers#partial')
                            if t102 is None:
                                t104 = None
                            elif 'drive_replaced' in charged(t102, 0.1):
                                t104 = True
                            else:
                                t104 = None if t103 else False
                            if t104 is True:
                                t101 = True
                                break
                            if t104 is None:
                                t101 = None
                    if t94 is None:
                        t94 = True if t101 is True else None
                    else:
                        t94 = t101
                if t94 is False:
                    t93 = False
                    break
                if t94 is None:
                    t93 = None
        if t1 is None:
            t1 = False if t93 is False else None
        else:
            t1 = t93
    return None if t1 is None else 1 if t1 else 0

def r_interlocks_are_as_strict_as_before(v_before, v_after, v_machine):
    t1 = v_before.get('interlocks')
    t2 = v_before.get('interlocks#partial')
    if t1 is None:
        t3 = None
    else:
        t3 = None if t2 else False
        for v_old in t1:
            t4 = d_axis_interlocks__doubts_position(v_old)
            if t4 is True:
                t3 = True
                break
            if t4 is None:
                t3 = None
    if t3 is not True:
        return 2 if t3 is False else None
    t11 = v_after.get('interlocks')
    t12 = v_after.get('interlocks#partial')
    if t11 is None:
        t13 = None
    else:
        t13 = None if t12 else True
        for v_lock in t11:
            t14 = d_axis_interlocks__doubts_position(v_lock)
            if t14 is False:
                continue
            t15 = v_lock.get('released_by')
            t16 = v_lock.get('released_by#partial')
            if t15 is None:
                t17 = None
            elif 'alarm_reset' in charged(t15, 0.1):
                t17 = True
            else:
                t17 = None if t16 else False
            t18 = None if t17 is None else not t17
            if t18 is False and t14:
                t13 = False
                break
            if t18 is not True:
                t13 = None
    t10 = t13
    if t10 is not True:
        t19 = v_before.get('interlocks')
        t20 = v_before.get('interlocks#partial')
        if t19 is None:
            t21 = None
        else:
            t21 = None if t20 else False
            for v_old in t19:
                t22 = d_axis_interlocks__doubts_position(v_old)
                if t22 is False:
                    continue
                t23 = v_old.get('released_by')
                t24 = v_old.get('released_by#partial')
                if t23 is None:
                    t25 = None
                elif 'alarm_reset' in charged(t23, 0.1):
                    t25 = True
                else:
                    t25 = None if t24 else False
                if t25 is True and t22:
                    t21 = True
                    break
                if t25 is not False:
                    t21 = None
        if t10 is None:
            t10 = True if t21 is True else None
        else:
            t10 = t21
    t9 = t10
    if t9 is not False:
        t27 = v_after.get('interlocks')
        t28 = v_after.get('interlocks#partial')
        if t27 is None:
            t29 = None
        else:
            t29 = None if t28 else True
            for v_lock in t27:
                t30 = d_axis_interlocks__doubts_position(v_lock)
                if t30 is False:
                    continue
                t31 = v_lock.get('released_by')
                t32 = v_lock.get('released_by#partial')
                if t31 is None:
                    t33 = None
                elif 'power_cycle' in charged(t31, 0.1):
                    t33 = True
                else:
                    t33 = None if t32 else False
                t34 = None if t33 is None else not t33
                if t34 is False and t30:
                    t29 = False
                    break
                if t34 is not True:
                    t29 = None
        t26 = t29
        if t26 is not True:
            t35 = v_before.get('interlocks')
            t36 = v_before.get('interlocks#partial')
            if t35 is None:
                t37 = None
            else:
                t37 = None if t36 else False
                for v_old in t35:
                    t38 = d_axis_interlocks__doubts_position(v_old)
                    if t38 is False:
                        continue
                    t39 = v_old.get('released_by')
                    t40 = v_old.get('released_by#partial')
                    if t39 is None:
                        t41 = None
                    elif 'power_cycle' in charged(t39, 0.1):
                        t41 = True
                    else:
                        t41 = None if t40 else False
                    if t41 is True and t38:
                        t37 = True
                        break
                    if t41 is not False:
                        t37 = None
            if t26 is None:
                t26 = True if t37 is True else None
            else:
                t26 = t37
        if t9 is None:
            t9 = False if t26 is False else None
        else:
            t9 = t26
    t8 = t9
    if t8 is not False:
        t43 = v_after.get('interlocks')
        t44 = v_after.get('interlocks#partial')
        if t43 is None:
            t45 = None
        else:
            t45 = None if t44 else True
            for v_lock in t43:
                t46 = d_axis_interlocks__doubts_position(v_lock)
                if t46 is False:
                    continue
                t47 = v_lock.get('released_by')
                t48 = v_lock.get('released_by#partial')
                if t47 is None:
                    t49 = None
                elif 'acknowledgement' in charged(t47, 0.1):
                    t49 = True
                else:
                    t49 = None if t48 else False
                t50 = None if t49 is None else not t49
                if t50 is False and t46:
                    t45 = False
                    break
                if t50 is not True:
                    t45 = None
        t42 = t45
        if t42 is not True:
            t51 = v_before.get('interlocks')
            t52 = v_before.get('interlocks#partial')
            if t51 is None:
                t53 = None
            else:
                t53 = None if t52 else False
                for v_old in t51:
                    t54 = d_axis_interlocks__doubts_position(v_old)
                    if t54 is False:
                        continue
                    t55 = v_old.get('released_by')
                    t56 = v_old.get('released_by#partial')
                    if t55 is None:
                        t57 = None
                    elif 'acknowledgement' in charged(t55, 0.1):
                        t57 = True
                    else:
                        t57 = None if t56 else False
                    if t57 is True and t54:
                        t53 = True
                        break
                    if t57 is not False:
                        t53 = None
            if t42 is None:
                t42 = True if t53 is True else None
            else:
                t42 = t53
        if t8 is None:
            t8 = False if t42 is False else None
        else:
            t8 = t42
    t7 = t8
    if t7 is not False:
        t59 = v_after.get('interlocks')
        t60 = v_after.get('interlocks#partial')
        if t59 is None:
            t61 = None
        else:
            t61 = None if t60 else True
            for v_lock in t59:
                t62 = d_axis_interlocks__doubts_position(v_lock)
                if t62 is False:
                    continue
                t63 = v_lock.get('latched')
                if t63 is False and t62:
                    t61 = False
                    break
                if t63 is not True:
                    t61 = None
        t58 = t61
        if t58 is not True:
            t64 = v_before.get('interlocks')
            t65 = v_before.get('interlocks#partial')
            if t64 is None:
                t66 = None
            else:
                t66 = None if t65 else False
                for v_old in t64:
                    t67 = d_axis_interlocks__doubts_position(v_old)
                    if t67 is False:
                        continue
                    t68 = v_old.get('latched')
                    t69 = None if t68 is None else not t68
                    if t69 is True and t67:
                        t66 = True
                        break
                    if t69 is not False:
                        t66 = None
            if t58 is None:
                t58 = True if t66 is True else None
            else:
                t58 = t66
        if t7 is None:
            t7 = False if t58 is False else None
        else:
            t7 = t58
    t6 = t7
    if t6 is not False:
        t71 = v_after.get('interlocks')
        t72 = v_after.get('interlocks#partial')
        if t71 is None:
            t73 = None
        else:
            t73 = None if t72 else True
            for v_lock in t71:
                t74 = d_axis_interlocks__doubts_position(v_lock)
                if t74 is False:
                    continue
                t75 = v_lock.get('clears_homed_flag')
                if t75 is False and t74:
                    t73 = False
                    break
                if t75 is not True:
                    t73 = None
        t70 = t73
        if t70 is not True:
            t76 = v_before.get('interlocks')
            t77 = v_before.get('interlocks#partial')
            if t76 is None:
                t78 = None
            else:
                t78 = None if t77 else False
                for v_old in t76:
                    t79 = d_axis_interlocks__doubts_position(v_old)
                    if t79 is False:
                        continue
                    t80 = v_old.get('clears_homed_flag')
                    t81 = None if t80 is None else not t80
                    if t81 is True and t79:
                        t78 = True
                        break
                    if t81 is not False:
                        t78 = None
            if t70 is None:
                t70 = True if t78 is True else None
            else:
                t70 = t78
        if t6 is None:
            t6 = False if t70 is False else None
        else:
            t6 = t70
    t5 = t6
    if t5 is not False:
        t83 = v_after.get('interlocks')
        t84 = v_after.get('interlocks#partial')
        if t83 is None:
            t85 = None
        else:
            t85 = None if t84 else True
            for v_lock in t83:
                t86 = d_axis_interlocks__doubts_position(v_lock)
                if t86 is False:
                    continue
                t88 = v_lock.get('inhibits')
                t89 = v_lock.get('inhibits#partial')
                if t88 is None:
                    t90 = None
                elif 'automatic_motion' in charged(t88, 0.1):
                    t90 = True
                else:
                    t90 = None if t89 else False
                t87 = t90
                if t87 is not True:
                    t91 = v_lock.get('inhibits')
                    t92 = v_lock.get('inhibits#partial')
                    if t91 is None:
                        t93 = None
                    elif 'all_motion' in charged(t91, 0.1):
                        t93 = True
                    else:
                        t93 = None if t92 else False
                    if t87 is None:
                        t87 = True if t93 is True else None
                    else:
                        t87 = t93
                if t87 is False and t86:
                    t85 = False
                    break
                if t87 is not True:
                    t85 = None
        t82 = t85
        if t82 is not True:
            t94 = v_before.get('interlocks')
            t95 = v_before.get('interlocks#partial')
            if t94 is None:
                t96 = None
            else:
                t96 = None if t95 else False
                for v_old in t94:
                    t97 = d_axis_interlocks__doubts_position(v_old)
                    if t97 is False:
                        continue
                    t99 = v_old.get('inhibits')
                    t100 = v_old.get('inhibits#partial')
                    if t99 is None:
                        t101 = None
                    elif 'automatic_motion' in charged(t99, 0.1):
                        t101 = True
                    else:
                        t101 = None if t100 else False
                    t98 = t101
                    if t98 is not True:
                        t102 = v_old.get('inhibits')
                        t103 = v_old.get('inhibits#partial')
                        if t102 is None:
                            t104 = None
                        elif 'all_motion' in charged(t102, 0.1):
                            t104 = True
                        else:
                            t104 = None if t103 else False
                        if t98 is None:
                            t98 = True if t104 is True else None
                        else:
                            t98 = t104
                    t105 = None if t98 is None else not t98
                    if t105 is True and t97:
                        t96 = True
                        break
                    if t105 is not False:
                        t96 = None
            if t82 is None:
                t82 = True if t96 is True else None
            else:
                t82 = t96
        if t5 is None:
            t5 = False if t82 is False else None
        else:
            t5 = t82
    return None if t5 is None else 1 if t5 else 0

def r_software_limits_are_not_widened(v_before, v_after, v_machine):
    t2 = v_before.get('motion')
    t3 = v_after.get('motion')
    t4 = None if t2 is None or t3 is None else t2 == t3
    t1 = t4
    if t1 is not False:
        t5 = v_before.get('controller.software_limits')
        t6 = None if t5 is None else t5 is NONE
        t7 = None if t6 is None else not t6
        if t1 is None:
            t1 = False if t7 is False else None
        else:
            t1 = t7
    if t1 is not True:
        return 2 if t1 is False else None
    t10 = v_after.get('controller.software_limits')
    t11 = None if t10 is None else t10 is NONE
    t12 = None if t11 is None else not t11
    t9 = t12
    if t9 is not False:
        t13 = v_after.get('controller.software_limits.min')
        t14 = v_before.get('controller.software_limits.min')
        t15 = None if t13 is None or t14 is None else t13 >= t14
        if t9 is None:
            t9 = False if t15 is False else None
        else:
            t9 = t15
    t8 = t9
    if t8 is not False:
        t16 = v_after.get('controller.software_limits.max')
        t17 = v_before.get('controller.software_limits.max')
        t18 = None if t16 is None or t17 is None else t16 <= t17
        if t8 is None:
            t8 = False if t18 is False else None
        else:
            t8 = t18
    return None if t8 is None else 1 if t8 else 0

def r_software_limits_stay_in_force(v_before, v_after, v_machine):
    t3 = v_before.get('controller.software_limits')
    t4 = None if t3 is None else t3 is NONE
    t5 = None if t4 is None else not t4
    t2 = t5
    if t2 is not False:
        t6 = v_after.get('controller.software_limits')
        t7 = None if t6 is None else t6 is NONE
        t8 = None if t7 is None else not t7
        if t2 is None:
            t2 = False if t8 is False else None
        else:
            t2 = t8
    t1 = t2
    if t1 is not False:
        t9 = v_before.get('controller.software_limits.active')
        t10 = None if t9 is None else t9 == 'always'
        if t1 is None:
            t1 = False if t10 is False else None
        else:
            t1 = t10
    if t1 is not True:
        return 2 if t1 is False else None
    t11 = v_after.get('controller.software_limits.active')
    t12 = None if t11 is None else t11 == 'always'
    return None if t12 is None else 1 if t12 else 0

def r_raised_speed_still_stops_in_time(v_before, v_after, v_machine):
    t5 = v_before.get('motion')
    t6 = v_after.get('motion')
    t7 = None if t5 is None or t6 is None else t5 == t6
    t4 = t7
    if t4 is not False:
        t8 = v_after.get('controller.max_velocity')
        t9 = v_before.get('controller.max_velocity')
        t10 = None if t8 is None or t9 is None else t8 > t9
        if t4 is None:
            t4 = False if t10 is False else None
        else:
            t4 = t10
    t3 = t4
    if t3 is not False:
        t11 = v_after.get('controller.type')
        t12 = None if t11 is None else t11 == 'linear'
        if t3 is None:
            t3 = False if t12 is False else None
        else:
            t3 = t12
    t2 = t3
    if t2 is not False:
        t13 = v_after.get('mechanics.travel')
        t14 = None if t13 is None else t13 is NONE
        t15 = None if t14 is None else not t14
        if t2 is None:
            t2 = False if t15 is False else None
        else:
            t2 = t15
    t1 = t2
    if t1 is not False:
        t16 = v_after.get('controller.software_limits')
        t17 = None if t16 is None else t16 is NONE
        t18 = None if t17 is None else not t17
        if t1 is None:
            t1 = False if t18 is False else None
        else:
            t1 = t18
    if t1 is not True:
        return 2 if t1 is False else None
    t19 = v_after.get('controller.software_limits.min')
    t20 = d_axis__lowest_safe(v_after)
    t21 = None if t19 is None or t20 is None else t19 - t20
    t22 = d_axis__highest_safe(v_after)
    t23 = v_after.get('controller.software_limits.max')
    t24 = None if t22 is None or t23 is None else t22 - t23
    t25 = None if t21 is None or t24 is None else f_smaller(t21, t24)
    l_room = t25
    t26 = d_axis__controller_stopping_distance(v_after)
    t27 = None if t26 is None or l_room is None else t26 <= l_room
    return None if t27 is None else 1 if t27 else 0

def r_changed_unit_leaves_lengths_alone(v_before, v_after, v_machine):
    t2 = v_before.get('motion')
    t3 = v_after.get('motion')
    t4 = None if t2 is None or t3 is None else t2 == t3
    t1 = t4
    if t1 is not False:
        t5 = v_before.get('controller.units')
        t6 = v_after.get('controller.units')
        t7 = None if t5 is None or t6 is None else t5 == t6
        t8 = None if t7 is None else not t7
        if t1 is None:
            t1 = False if t8 is False else None
        else:
            t1 = t8
    if t1 is not True:
        return 2 if t1 is False else None
    t11 = v_before.get('controller.max_velocity')
    t12 = v_after.get('controller.max_velocity')
    t13 = None if t11 is None or t12 is None else eq(t11, t12)
    t10 = t13
    if t10 is not False:
        t14 = d_axis__controller_counts_per_unit(v_before)
        t15 = d_axis__controller_counts_per_unit(v_after)
        t16 = None if t14 is None or t15 is None else eq(t14, t15)
        if t10 is None:
            t10 = False if t16 is False else None
        else:
            t10 = t16
    t9 = t10
    if t9 is not False:
        t19 = v_before.get('controller.software_limits')
        t20 = None if t19 is None else t19 is NONE
        t18 = t20
        if t18 is not True:
            t21 = v_after.get('controller.software_limits')
            t22 = None if t21 is None else t21 is NONE
            if t18 is None:
                t18 = True if t22 is True else None
            else:
                t18 = t22
        t17 = t18
        if t17 is not True:
            t24 = v_before.get('controller.software_limits.min')
            t25 = v_after.get('controller.software_limits.min')
            t26 = None if t24 is None or t25 is None else eq(t24, t25)
            t23 = t26
            if t23 is not False:
                t27 = v_before.get('controller.software_limits.max')
                t28 = v_after.get('controller.software_limits.max')
                t29 = None if t27 is None or t28 is None else eq(t27, t28)
                if t23 is None:
                    t23 = False if t29 is False else None
                else:
                    t23 = t29
            if t17 is None:
                t17 = True if t23 is True else None
            else:
                t17 = t23
        if t9 is None:
            t9 = False if t17 is False else None
        else:
            t9 = t17
    return None if t9 is None else 1 if t9 else 0

def r_brake_is_as_strong_as_before(v_before, v_after, v_machine):
    t2 = v_after.get('mechanics.vertical')
    t1 = t2
    if t1 is not False:
        t3 = v_before.get('motor.brake')
        t4 = None if t3 is None else t3 is NONE
        t5 = None if t4 is None else not t4
        if t1 is None:
            t1 = False if t5 is False else None
        else:
            t1 = t5
    if t1 is not True:
        return 2 if t1 is False else None
    t7 = v_after.get('motor.brake')
    t8 = None if t7 is None else t7 is NONE
    t9 = None if t8 is None else not t8
    t6 = t9
    if t6 is not False:
        t10 = v_after.get('motor.brake.holding_torque')
        t11 = v_before.get('motor.brake.holding_torque')
        t12 = None if t10 is None or t11 is None else t10 >= t11
        if t6 is None:
            t6 = False if t12 is False else None
        else:
            t6 = t12
    return None if t6 is None else 1 if t6 else 0

def r_drive_stops_as_hard_as_before(v_before, v_after, v_machine):
    t1 = v_before.get('motion')
    t2 = v_after.get('motion')
    t3 = None if t1 is None or t2 is None else t1 == t2
    if t3 is not True:
        return 2 if t3 is False else None
    t6 = v_after.get('drive.stop_reaction.deceleration')
    t7 = v_before.get('drive.stop_reaction.deceleration')
    t8 = None if t6 is None or t7 is None else t6 >= t7
    t5 = t8
    if t5 is not False:
        t9 = v_after.get('drive.stop_reaction.delay')
        t10 = v_before.get('drive.stop_reaction.delay')
        t11 = None if t9 is None or t10 is None else t9 <= t10
        if t5 is None:
            t5 = False if t11 is False else None
        else:
            t5 = t11
    t4 = t5
    if t4 is not False:
        t13 = v_after.get('drive.stop_reaction.option')
        t14 = None if t13 is None else t13 == 'disable_at_once'
        t15 = None if t14 is None else not t14
        t12 = t15
        if t12 is not True:
            t16 = v_before.get('drive.stop_reaction.option')
            t17 = None if t16 is None else t16 == 'disable_at_once'
            if t12 is None:
                t12 = True if t17 is True else None
            else:
                t12 = t17
        if t4 is None:
            t4 = False if t12 is False else None
        else:
            t4 = t12
    return None if t4 is None else 1 if t4 else 0

def r_controller_stops_as_hard_as_before(v_before, v_after, v_machine):
    t1 = v_before.get('motion')
    t2 = v_after.get('motion')
    t3 = None if t1 is None or t2 is None else t1 == t2
    if t3 is not True:
        return 2 if t3 is False else None
    t5 = v_after.get('controller.stop.deceleration')
    t6 = v_before.get('controller.stop.deceleration')
    t7 = None if t5 is None or t6 is None else t5 >= t6
    t4 = t7
    if t4 is not False:
        t8 = v_after.get('controller.stop.delay')
        t9 = v_before.get('controller.stop.delay')
        t10 = None if t8 is None or t9 is None else t8 <= t9
        if t4 is None:
            t4 = False if t10 is False else None
        else:
            t4 = t10
    return None if t4 is None else 1 if t4 else 0

def r_wraps_are_still_retained(v_before, v_after, v_machine):
    t1 = v_before.get('controller.wraps_retained')
    if t1 is not True:
        return 2 if t1 is False else None
    t2 = v_after.get('controller.wraps_retained')
    return None if t2 is None else 1 if t2 else 0

def r_following_error_is_watched_as_closely(v_before, v_after, v_machine):
    t1 = v_before.get('motion')
    t2 = v_after.get('motion')
    t3 = None if t1 is None or t2 is None else t1 == t2
    if t3 is not True:
        return 2 if t3 is False else None
    t5 = v_after.get('drive.following_error_window')
    t6 = v_before.get('drive.following_error_window')
    t7 = None if t5 is None or t6 is None else t5 <= t6
    t4 = t7
    if t4 is not False:
        t8 = v_after.get('drive.following_error_timeout')
        t9 = v_before.get('drive.following_error_timeout')
        t10 = None if t8 is None or t9 is None else t8 <= t9
        if t4 is None:
            t4 = False if t10 is False else None
        else:
            t4 = t10
    return None if t4 is None else 1 if t4 else 0

def r_condition_codes_unique(v_machine):
    t2 = v_machine.get('conditions')
    t3 = v_machine.get('conditions#partial')
    if t2 is None:
        t4 = None
    else:
        t4 = None if t3 else False
        for v_code in metered(t2, 2):
            t5 = v_machine.get('conditions')
            t6 = v_machine.get('conditions#partial')
            if t5 is None:
                t7 = None
            else:
                t7 = None if t6 else False
                t8 = v_code.get('code')
                for v_other in metered(matching(v_machine, 'conditions', 'code', t8), 10):
                    t9 = v_other.get('code')
                    t10 = v_code.get('code')
                    t11 = None if t9 is None or t10 is None else t9 == t10
                    if t11 is False:
                        continue
                    t13 = d_machine_conditions__doubts_position(v_other)
                    t14 = None if t13 is None else not t13
                    t12 = t14
                    if t12 is not False:
                        t15 = v_other.get('condition')
                        t16 = v_code.get('condition')
                        t17 = None if t15 is None or t16 is None else t15 == t16
                        t18 = None if t17 is None else not t17
                        if t12 is None:
                            t12 = False if t18 is False else None
                        else:
                            t12 = t18
                    if t12 is True and t11:
                        t7 = True
                        break
                    if t12 is not False:
                        t7 = None
                        if t11 is None:
                            break
            if t7 is True:
                t4 = True
                break
            if t7 is None:
                t4 = None
    t19 = None if t4 is None else not t4
    t1 = t19
    if t1 is not False:
        t20 = v_machine.get('conditions')
        t21 = v_machine.get('conditions#partial')
        if t20 is None:
            t22 = None
        else:
            t22 = None if t21 else True
            for v_code in metered(t20, 4):
                t23 = v_machine.get('conditions')
                t24 = v_machine.get('conditions#partial')
                if t23 is None or t24:
                    t25 = None
                else:
                    t26 = True
                    t25 = 0
                    t27 = v_code.get('code')
                    for v_other in metered(matching(v_machine, 'conditions', 'code', t27), 7):
                        t29 = v_other.get('code')
                        t30 = v_code.get('code')
                        t31 = None if t29 is None or t30 is None else t29 == t30
                        t28 = t31
                        if t28 is not False:
                            t32 = v_other.get('condition')
                            t33 = v_code.get('condition')
                            t34 = None if t32 is None or t33 is None else t32 == t33
                            if t28 is None:
                                t28 = False if t34 is False else None
                            else:
                                t28 = t34
                        if t28 is False:
                            continue
                        if t28 is None:
                            t26 = False
                            break
                        t25 += 1
                    t25 = t25 if t26 else None
                t35 = None if t25 is None else eq(t25, 1)
                if t35 is False:
                    t22 = False
                    break
                if t35 is None:
                    t22 = None
        if t1 is None:
            t1 = False if t22 is False else None
        else:
            t1 = t22
    return None if t1 is None else 1 if t1 else 0

def r_conditions_of_lost_turns_have_codes(v_machine):
    t1 = d_machine__turns_are_used(v_machine)
    if t1 is not True:
        return 2 if t1 is False else None
    t2 = v_machine.get('conditions')
    t3 = v_machine.get('conditions#partial')
    if t2 is None:
        t4 = None
    else:
        t4 = None if t3 else False
        for v_code in metered(t2, 4):
            t5 = v_code.get('condition')
            t6 = None if t5 is None else t5 == 'position_lost'
            if t6 is True:
                t4 = True
                break
            if t6 is None:
                t4 = None
    l_lost = t4
    t7 = v_machine.get('conditions')
    t8 = v_machine.get('conditions#partial')
    if t7 is None:
        t9 = None
    else:
        t9 = None if t8 else False
        for v_code in metered(t7, 4):
            t10 = v_code.get('condition')
            t11 = None if t10 is None else t10 == 'turn_count_disagreement'
            if t11 is True:
                t9 = True
                break
            if t11 is None:
                t9 = None
    l_unlike = t9
    t12 = v_machine.get('conditions')
    t13 = v_machine.get('conditions#partial')
    if t12 is None:
        t14 = None
    else:
        t14 = None if t13 else False
        for v_code in metered(t12, 4):
            t15 = v_code.get('condition')
            t16 = None if t15 is None else t15 == 'battery_low'
            if t16 is True:
                t14 = True
                break
            if t16 is None:
                t14 = None
    l_low = t14
    t17 = v_machine.get('conditions')
    t18 = v_machine.get('conditions#partial')
    if t17 is None:
        t19 = None
    else:
        t19 = None if t18 else False
        for v_code in metered(t17, 4):
            t20 = v_code.get('condition')
            t21 = None if t20 is None else t20 == 'battery_dead'
            if t21 is True:
                t19 = True
                break
            if t21 is None:
                t19 = None
    l_dead = t19
    t24 = l_lost
    if t24 is not False:
        if t24 is None:
            t24 = False if l_unlike is False else None
        else:
            t24 = l_unlike
    t23 = t24
    if t23 is not False:
        t25 = l_low
        if t25 is not True:
            t26 = d_machine__batteries_are_used(v_machine)
            t27 = None if t26 is None else not t26
            if t25 is None:
                t25 = True if t27 is True else None
            else:
                t25 = t27
        if t23 is None:
            t23 = False if t25 is False else None
        else:
            t23 = t25
    t22 = t23
    if t22 is not False:
        t28 = l_dead
        if t28 is not True:
            t29 = d_machine__batteries_are_used(v_machine)
            t30 = None if t29 is None else not t29
            if t28 is None:
                t28 = True if t30 is True else None
            else:
                t28 = t30
        if t22 is None:
            t22 = False if t28 is False else None
        else:
            t22 = t28
    return None if t22 is None else 1 if t22 else 0

def r_doubtful_position_clears_by_homing(v_machine):
    t1 = v_machine.get('conditions')
    t2 = v_machine.get('conditions#partial')
    if t1 is None:
        t3 = None
    else:
        t3 = None if t2 else True
        for v_code in metered(t1, 21):
            t6 = d_machine_conditions__doubts_position(v_code)
            t5 = t6
            if t5 is not True:
                t8 = v_code.get('condition')
                t9 = None if t8 is None else t8 == 'motor_unlike_record'
                t7 = t9
                if t7 is not False:
                    t10 = d_machine__motors_carry_references(v_machine)
                    if t7 is None:
                        t7 = False if t10 is False else None
                    else:
                        t7 = t10
                if t5 is None:
                    t5 = True if t7 is True else None
                else:
                    t5 = t7
            t4 = t5
            if t4 is not True:
                t12 = v_code.get('condition')
                t13 = None if t12 is None else t12 == 'drive_unlike_record'
                t11 = t13
                if t11 is not False:
                    t14 = d_machine__drives_carry_references(v_machine)
                    if t11 is None:
                        t11 = False if t14 is False else None
                    else:
                        t11 = t14
                if t4 is None:
                    t4 = True if t11 is True else None
                else:
                    t4 = t11
            if t4 is False:
                continue
            t16 = v_code.get('cleared_by')
            t17 = v_code.get('cleared_by#partial')
            if t16 is None:
                t18 = None
            elif 'homing' in charged(t16, 0.1):
                t18 = True
            else:
                t18 = None if t17 else False
            t15 = t18
            if t15 is not False:
                t19 = v_code.get('cleared_by')
                t20 = v_code.get('cleared_by#partial')
                if t19 is None:
                    t21 = None
                elif 'by_itself' in charged(t19, 0.1):
                    t21 = True
                else:
                    t21 = None if t20 else False
                t22 = None if t21 is None else not t21
                if t15 is None:
                    t15 = False if t22 is False else None
                else:
                    t15 = t22
            if t15 is False and t4:
                t3 = False
                break
            if t15 is not True:
                t3 = None
    return None if t3 is None else 1 if t3 else 0

def r_replaced_part_stays_noticed(v_machine):
    t1 = v_machine.get('conditions')
    t2 = v_machine.get('conditions#partial')
    if t1 is None:
        t3 = None
    else:
        t3 = None if t2 else False
        for v_code in metered(t1, 20):
            t6 = v_code.get('condition')
            t7 = None if t6 is None else t6 == 'motor_unlike_record'
            t5 = t7
            if t5 is not False:
                t9 = d_machine__motors_carry_references(v_machine)
                t8 = t9
                if t8 is None and not ('#disputed' in v_machine and disputed(v_machine, ('axes', 'axes[].encoder.kind', 'axes[].controller.homing.method', 'axes[].encoder.mounted_on'))):
                    t8 = False
                t10 = None if t8 is None else not t8
                if t5 is None:
                    t5 = False if t10 is False else None
                else:
                    t5 = t10
            t4 = t5
            if t4 is not True:
                t12 = v_code.get('condition')
                t13 = None if t12 is None else t12 == 'drive_unlike_record'
                t11 = t13
                if t11 is not False:
                    t15 = d_machine__drives_carry_references(v_machine)
                    t14 = t15
                    if t14 is None and not ('#disputed' in v_machine and disputed(v_machine, ('axes', 'axes[].storage.offset', 'axes[].controller.position_matters', 'axes[].encoder.kind', 'axes[].drive.encoder_use', 'axes[].encoder.form', 'axes[].storage.turns'))):
                        t14 = False
                    t16 = None if t14 is None else not t14
                    if t11 is None:
                        t11 = False if t16 is False else None
                    else:
                        t11 = t16
                if t4 is None:
                    t4 = True if t11 is True else None
                else:
                    t4 = t11
            if t4 is False:
                continue
            t17 = v_code.get('cleared_by')
            t18 = v_code.get('cleared_by#partial')
            if t17 is None:
                t19 = None
            elif 'by_itself' in charged(t17, 0.1):
                t19 = True
            else:
                t19 = None if t18 else False
            if t19 is True and t4:
                t3 = True
                break
            if t19 is not False:
                t3 = None
    t20 = None if t3 is None else not t3
    return None if t20 is None else 1 if t20 else 0

def r_unknown_commutation_clears_by_teaching(v_machine):
    t1 = v_machine.get('conditions')
    t2 = v_machine.get('conditions#partial')
    if t1 is None:
        t3 = None
    else:
        t3 = None if t2 else True
        for v_code in metered(t1, 11):
            t4 = v_code.get('condition')
            t5 = None if t4 is None else t4 == 'commutation_unknown'
            if t5 is False:
                continue
            t7 = v_code.get('cleared_by')
            t8 = v_code.get('cleared_by#partial')
            if t7 is None:
                t9 = None
            elif 'commutation_teaching' in charged(t7, 0.1):
                t9 = True
            else:
                t9 = None if t8 else False
            t6 = t9
            if t6 is not False:
                t10 = v_code.get('cleared_by')
                t11 = v_code.get('cleared_by#partial')
                if t10 is None:
                    t12 = None
                elif 'by_itself' in charged(t10, 0.1):
                    t12 = True
                else:
                    t12 = None if t11 else False
                t13 = None if t12 is None else not t12
                if t6 is None:
                    t6 = False if t13 is False else None
                else:
                    t6 = t13
            if t6 is False and t5:
                t3 = False
                break
            if t6 is not True:
                t3 = None
    return None if t3 is None else 1 if t3 else 0

def r_condition_tells_what_to_do(v_machine):
    t1 = v_machine.get('conditions')
    t2 = v_machine.get('conditions#partial')
    if t1 is None:
        t3 = None
    else:
        t3 = None if t2 else True
        for v_code in metered(t1, 4):
            t4 = v_code.get('guidance')
            t5 = None if t4 is None else t4 is NONE
            t6 = None if t5 is None else not t5
            if t6 is False:
                t3 = False
                break
            if t6 is None:
                t3 = None
    return None if t3 is None else 1 if t3 else 0

def r_rehome_interlock_tells_operator(v_axis, v_machine):
    t1 = v_axis.get('interlocks')
    t2 = v_axis.get('interlocks#partial')
    if t1 is None:
        t3 = None
    else:
        t3 = None if t2 else False
        for v_lock in t1:
            t4 = d_axis_interlocks__doubts_position(v_lock)
            if t4 is True:
                t3 = True
                break
            if t4 is None:
                t3 = None
    if t3 is not True:
        return 2 if t3 is False else None
    t5 = v_axis.get('interlocks')
    t6 = v_axis.get('interlocks#partial')
    if t5 is None:
        t7 = None
    else:
        t7 = None if t6 else True
        for v_lock in t5:
            t8 = d_axis_interlocks__doubts_position(v_lock)
            if t8 is False:
                continue
            t9 = v_lock.get('guidance')
            t10 = None if t9 is None else t9 is NONE
            t11 = None if t10 is None else not t10
            if t11 is False and t8:
                t7 = False
                break
            if t11 is not True:
                t7 = None
    return None if t7 is None else 1 if t7 else 0

def r_polarity_of_position_and_velocity_agree(v_axis, v_machine):
    t1 = v_axis.get('drive.velocity_polarity')
    t2 = v_axis.get('drive.polarity')
    t3 = None if t1 is None or t2 is None else t1 == t2
    return None if t3 is None else 1 if t3 else 0

def r_axis_moves_the_way_it_is_told(v_axis, v_machine):
    t1 = d_axis__polarities_agree(v_axis)
    if t1 is not True:
        return 2 if t1 is False else None
    t2 = d_axis__load_follows_position(v_axis)
    return None if t2 is None else 1 if t2 else 0

def r_drive_knows_count_direction(v_axis, v_machine):
    t1 = v_axis.get('drive.encoder_direction')
    t2 = v_axis.get('encoder.count_direction')
    t3 = None if t1 is None or t2 is None else t1 == t2
    return None if t3 is None else 1 if t3 else 0

def r_limit_inputs_stop_the_right_way(v_axis, v_machine):
    t3 = v_axis.get('mechanics.limit_switches')
    t4 = None if t3 is None else t3 is NONE
    t5 = None if t4 is None else not t4
    t2 = t5
    if t2 is not False:
        t6 = d_axis__polarities_agree(v_axis)
        if t2 is None:
            t2 = False if t6 is False else None
        else:
            t2 = t6
    t1 = t2
    if t1 is not False:
        t7 = d_axis__load_follows_position(v_axis)
        if t1 is None:
            t1 = False if t7 is False else None
        else:
            t1 = t7
    if t1 is not True:
        return 2 if t1 is False else None
    t8 = v_axis.get('drive.limit_inputs.negative_guards')
    t9 = None if t8 is None else t8 == 'negative'
    t10 = v_axis.get('drive.limit_inputs.follows_polarity')
    if t10 is None:
        t11 = None
    elif t10:
        t12 = v_axis.get('controller.polarity')
        t13 = None if t12 is None else t12 == 'normal'
        t11 = t13
    else:
        t14 = d_axis__motor_follows_position(v_axis)
        t11 = t14
    t15 = None if t9 is None or t11 is None else t9 == t11
    return None if t15 is None else 1 if t15 else 0

def r_gantry_partners_name_each_other(v_axis, v_other, v_machine):
    t2 = v_other.get('gantry')
    t3 = None if t2 is None else t2 is NONE
    t4 = None if t3 is None else not t3
    t1 = t4
    if t1 is not False:
        t5 = v_other.get('gantry.partner')
        t6 = v_axis.get('name')
        t7 = None if t5 is None or t6 is None else t5 == t6
        if t1 is None:
            t1 = False if t7 is False else None
        else:
            t1 = t7
    return None if t1 is None else 1 if t1 else 0

def r_gantry_has_one_leader(v_machine):
    t1 = v_machine.get('axes')
    t2 = v_machine.get('axes#partial')
    if t1 is None:
        t3 = None
    else:
        t3 = None if t2 else True
        for v_axis in metered(t1, 4):
            t4 = v_axis.get('gantry')
            t5 = None if t4 is None else t4 is NONE
            t6 = None if t5 is None else not t5
            if t6 is False:
                continue
            t7 = v_machine.get('axes')
            t8 = v_machine.get('axes#partial')
            if t7 is None:
                t9 = None
            else:
                t9 = None if t8 else True
                t10 = v_axis.get('gantry.partner')
                for v_other in metered(matching(v_machine, 'axes', 'name', t10), 11):
                    t12 = v_other.get('name')
                    t13 = v_axis.get('gantry.partner')
                    t14 = None if t12 is None or t13 is None else t12 == t13
                    t11 = t14
                    if t11 is not False:
                        t15 = v_other.get('gantry')
                        t16 = None if t15 is None else t15 is NONE
                        t17 = None if t16 is None else not t16
                        if t11 is None:
                            t11 = False if t17 is False else None
                        else:
                            t11 = t17
                    if t11 is False:
                        continue
                    t18 = v_other.get('gantry.role')
                    t19 = v_axis.get('gantry.role')
                    t20 = None if t18 is None or t19 is None else t18 == t19
                    t21 = None if t20 is None else not t20
                    if t21 is False and t11:
                        t9 = False
                        break
                    if t21 is not True:
                        t9 = None
                        if t14 is None:
                            break
            if t9 is False and t6:
                t3 = False
                break
            if t9 is not True:
                t3 = None
    return None if t3 is None else 1 if t3 else 0

def r_gantry_partners_reference_alike(v_axis, v_other, v_machine):
    t1 = v_axis.get('gantry.role')
    t2 = None if t1 is None else t1 == 'leader'
    if t2 is not True:
        return 2 if t2 is False else None
    t6 = v_axis.get('encoder.kind')
    t7 = v_other.get('encoder.kind')
    t8 = None if t6 is None or t7 is None else t6 == t7
    t5 = t8
    if t5 is not False:
        t9 = v_axis.get('drive.encoder_use')
        t10 = v_other.get('drive.encoder_use')
        t11 = None if t9 is None or t10 is None else t9 == t10
        if t5 is None:
            t5 = False if t11 is False else None
        else:
            t5 = t11
    t4 = t5
    if t4 is not False:
        t12 = v_axis.get('controller.homing')
        t13 = None if t12 is None else t12 is NONE
        t14 = v_other.get('controller.homing')
        t15 = None if t14 is None else t14 is NONE
        t16 = None if t13 is None or t15 is None else t13 == t15
        if t4 is None:
            t4 = False if t16 is False else None
        else:
            t4 = t16
    t3 = t4
    if t3 is not False:
        t18 = v_axis.get('controller.homing')
        t19 = None if t18 is None else t18 is NONE
        t17 = t19
        if t17 is not True:
            t20 = v_axis.get('controller.homing.method')
            t21 = v_other.get('controller.homing.method')
            t22 = None if t20 is None or t21 is None else t20 == t21
            if t17 is None:
                t17 = True if t22 is True else None
            else:
                t17 = t22
        if t3 is None:
            t3 = False if t17 is False else None
        else:
            t3 = t17
    return None if t3 is None else 1 if t3 else 0

def r_gantry_partners_move_alike(v_axis, v_other, v_machine):
    t2 = v_axis.get('gantry.role')
    t3 = None if t2 is None else t2 == 'leader'
    t1 = t3
    if t1 is not False:
        t4 = v_axis.get('motion')
        t5 = v_other.get('motion')
        t6 = None if t4 is None or t5 is None else t4 == t5
        if t1 is None:
            t1 = False if t6 is False else None
        else:
            t1 = t6
    if t1 is not True:
        return 2 if t1 is False else None
    t11 = v_axis.get('controller.max_velocity')
    t12 = v_other.get('controller.max_velocity')
    t13 = None if t11 is None or t12 is None else eq(t11, t12)
    t10 = t13
    if t10 is not False:
        t14 = v_axis.get('controller.max_acceleration')
        t15 = v_other.get('controller.max_acceleration')
        t16 = None if t14 is None or t15 is None else eq(t14, t15)
        if t10 is None:
            t10 = False if t16 is False else None
        else:
            t10 = t16
    t9 = t10
    if t9 is not False:
        t17 = v_axis.get('controller.max_jerk')
        t18 = None if t17 is None else t17 is NONE
        t19 = v_other.get('controller.max_jerk')
        t20 = None if t19 is None else t19 is NONE
        t21 = None if t18 is None or t20 is None else t18 == t20
        if t9 is None:
            t9 = False if t21 is False else None
        else:
            t9 = t21
    t8 = t9
    if t8 is not False:
        t23 = v_axis.get('controller.max_jerk')
        t24 = None if t23 is None else t23 is NONE
        t22 = t24
        if t22 is not True:
            t25 = v_axis.get('controller.max_jerk')
            if t25 is NONE:
                t25 = None
            t26 = v_other.get('controller.max_jerk')
            if t26 is NONE:
                t26 = None
            t27 = None if t25 is None or t26 is None else eq(t25, t26)
            if t22 is None:
                t22 = True if t27 is True else None
            else:
                t22 = t27
        if t8 is None:
            t8 = False if t22 is False else None
        else:
            t8 = t22
    t7 = t8
    if t7 is not False:
        t28 = v_axis.get('controller.cycle_time')
        t29 = v_other.get('controller.cycle_time')
        t30 = None if t28 is None or t29 is None else eq(t28, t29)
        if t7 is None:
            t7 = False if t30 is False else None
        else:
            t7 = t30
    return None if t7 is None else 1 if t7 else 0

def r_gantry_partners_limits_alike(v_axis, v_other, v_machine):
    t2 = v_axis.get('gantry.role')
    t3 = None if t2 is None else t2 == 'leader'
    t1 = t3
    if t1 is not False:
        t4 = v_axis.get('motion')
        t5 = v_other.get('motion')
        t6 = None if t4 is None or t5 is None else t4 == t5
        if t1 is None:
            t1 = False if t6 is False else None
        else:
            t1 = t6
    if t1 is not True:
        return 2 if t1 is False else None
    t8 = v_axis.get('controller.software_limits')
    t9 = None if t8 is None else t8 is NONE
    t10 = v_other.get('controller.software_limits')
    t11 = None if t10 is None else t10 is NONE
    t12 = None if t9 is None or t11 is None else t9 == t11
    t7 = t12
    if t7 is not False:
        t14 = v_axis.get('controller.software_limits')
        t15 = None if t14 is None else t14 is NONE
        t13 = t15
        if t13 is not True:
            t17 = v_axis.get('controller.software_limits.min')
            t18 = v_other.get('controller.software_limits.min')
            t19 = None if t17 is None or t18 is None else eq(t17, t18)
            t16 = t19
            if t16 is not False:
                t20 = v_axis.get('controller.software_limits.max')
                t21 = v_other.get('controller.software_limits.max')
                t22 = None if t20 is None or t21 is None else eq(t20, t21)
                if t16 is None:
                    t16 = False if t22 is False else None
                else:
                    t16 = t22
            if t13 is None:
                t13 = True if t16 is True else None
            else:
                t13 = t16
        if t7 is None:
            t7 = False if t13 is False else None
        else:
            t7 = t13
    return None if t7 is None else 1 if t7 else 0

def r_gantry_partners_stop_together(v_axis, v_other, v_machine):
    t3 = v_axis.get('gantry.role')
    t4 = None if t3 is None else t3 == 'leader'
    t2 = t4
    if t2 is not False:
        t5 = v_axis.get('motion')
        t6 = v_other.get('motion')
        t7 = None if t5 is None or t6 is None else t5 == t6
        if t2 is None:
            t2 = False if t7 is False else None
        else:
            t2 = t7
    t1 = t2
    if t1 is not False:
        t8 = v_axis.get('controller.max_velocity')
        t9 = v_other.get('controller.max_velocity')
        t10 = None if t8 is None or t9 is None else eq(t8, t9)
        if t1 is None:
            t1 = False if t10 is False else None
        else:
            t1 = t10
    if t1 is not True:
        return 2 if t1 is False else None
    t13 = v_axis.get('gantry.racking_tolerance')
    t14 = v_other.get('gantry.racking_tolerance')
    t15 = None if t13 is None or t14 is None else f_smaller(t13, t14)
    t12 = t15
    if t12 is None and not ('#disputed' in v_axis and disputed(v_axis, ('gantry.racking_tolerance',))) and not ('#disputed' in v_other and disputed(v_other, ('gantry.racking_tolerance',))):
        t16 = v_axis.get('gantry.racking_tolerance')
        t12 = t16
    t11 = t12
    if t11 is None and not ('#disputed' in v_axis and disputed(v_axis, ('gantry.racking_tolerance',))) and not ('#disputed' in v_other and disputed(v_other, ('gantry.racking_tolerance',))):
        t17 = v_other.get('gantry.racking_tolerance')
        t11 = t17
    l_tolerance = t11
    t18 = d_axis__run_after_trip(v_axis)
    t19 = d_axis__run_after_trip(v_other)
    t20 = None if t18 is None or t19 is None else t18 - t19
    t21 = None if t20 is None else f_absolute(t20)
    l_apart_by_drives = t21
    t22 = d_axis__controller_stopping_distance(v_axis)
    t23 = d_axis__controller_stopping_distance(v_other)
    t24 = None if t22 is None or t23 is None else t22 - t23
    t25 = None if t24 is None else f_absolute(t24)
    l_apart_by_controller = t25
    t27 = None if l_apart_by_drives is None or l_tolerance is None else l_apart_by_drives <= l_tolerance
    t26 = t27
    if t26 is not False:
        t28 = None if l_apart_by_controller is None or l_tolerance is None else l_apart_by_controller <= l_tolerance
        if t26 is None:
            t26 = False if t28 is False else None
        else:
            t26 = t28
    return None if t26 is None else 1 if t26 else 0

def r_gantry_partners_lag_alike(v_axis, v_other, v_machine):
    t3 = v_axis.get('gantry.role')
    t4 = None if t3 is None else t3 == 'leader'
    t2 = t4
    if t2 is not False:
        t5 = v_axis.get('motion')
        t6 = v_other.get('motion')
        t7 = None if t5 is None or t6 is None else t5 == t6
        if t2 is None:
            t2 = False if t7 is False else None
        else:
            t2 = t7
    t1 = t2
    if t1 is not False:
        t8 = v_axis.get('controller.max_velocity')
        t9 = v_other.get('controller.max_velocity')
        t10 = None if t8 is None or t9 is None else eq(t8, t9)
        if t1 is None:
            t1 = False if t10 is False else None
        else:
            t1 = t10
    if t1 is not True:
        return 2 if t1 is False else None
    t13 = v_axis.get('gantry.racking_tolerance')
    t14 = v_other.get('gantry.racking_tolerance')
    t15 = None if t13 is None or t14 is None else f_smaller(t13, t14)
    t12 = t15
    if t12 is None and not ('#disputed' in v_axis and disputed(v_axis, ('gantry.racking_tolerance',))) and not ('#disputed' in v_other and disputed(v_other, ('gantry.racking_tolerance',))):
        t16 = v_axis.get('gantry.racking_tolerance')
        t12 = t16
    t11 = t12
    if t11 is None and not ('#disputed' in v_axis and disputed(v_axis, ('gantry.racking_tolerance',))) and not ('#disputed' in v_other and disputed(v_other, ('gantry.racking_tolerance',))):
        t17 = v_other.get('gantry.racking_tolerance')
        t11 = t17
    l_tolerance = t11
    t18 = v_axis.get('controller.max_velocity')
    t19 = v_axis.get('controller.velocity_gain')
    t20 = None if t18 is None or t19 is None else div(t18, t19)
    t21 = v_axis.get('controller.velocity_feedforward')
    t22 = None if t21 is None else 1 - t21
    t23 = None if t20 is None or t22 is None else t20 * t22
    l_lag = t23
    t24 = v_other.get('controller.max_velocity')
    t25 = v_other.get('controller.velocity_gain')
    t26 = None if t24 is None or t25 is None else div(t24, t25)
    t27 = v_other.get('controller.velocity_feedforward')
    t28 = None if t27 is None else 1 - t27
    t29 = None if t26 is None or t28 is None else t26 * t28
    l_other_lag = t29
    t30 = None if l_lag is None or l_other_lag is None else l_lag - l_other_lag
    t31 = None if t30 is None else f_absolute(t30)
    l_apart = t31
    t32 = None if l_apart is None or l_tolerance is None else l_apart <= l_tolerance
    return None if t32 is None else 1 if t32 else 0

def r_gantry_references_square(v_axis, v_other, v_machine):
    t8 = v_axis.get('gantry.role')
    t9 = None if t8 is None else t8 == 'leader'
    t7 = t9
    if t7 is not False:
        t10 = v_axis.get('motion')
        t11 = v_other.get('motion')
        t12 = None if t10 is None or t11 is None else t10 == t11
        if t7 is None:
            t7 = False if t12 is False else None
        else:
            t7 = t12
    t6 = t7
    if t6 is not False:
        t13 = v_axis.get('controller.homing')
        t14 = None if t13 is None else t13 is NONE
        t15 = None if t14 is None else not t14
        if t6 is None:
            t6 = False if t15 is False else None
        else:
            t6 = t15
    t5 = t6
    if t5 is not False:
        t16 = v_other.get('controller.homing')
        t17 = None if t16 is None else t16 is NONE
        t18 = None if t17 is None else not t17
        if t5 is None:
            t5 = False if t18 is False else None
        else:
            t5 = t18
    t4 = t5
    if t4 is not False:
        t19 = v_axis.get('controller.homing.method')
        t20 = v_other.get('controller.homing.method')
        t21 = None if t19 is None or t20 is None else t19 == t20
        if t4 is None:
            t4 = False if t21 is False else None
        else:
            t4 = t21
    t3 = t4
    if t3 is not False:
        t24 = v_axis.get('controller.homing.method')
        t25 = None if t24 is None else f_uses_home_switch(t24)
        t23 = t25
        if t23 is not True:
            t26 = v_axis.get('controller.homing.method')
            t27 = None if t26 is None else f_uses_limit_switch(t26)
            if t23 is None:
                t23 = True if t27 is True else None
            else:
                t23 = t27
        t22 = t23
        if t22 is not True:
            t28 = v_axis.get('controller.homing.method')
            t29 = None if t28 is None else f_uses_hard_stop(t28)
            if t22 is None:
                t22 = True if t29 is True else None
            else:
                t22 = t29
        if t3 is None:
            t3 = False if t22 is False else None
        else:
            t3 = t22
    t2 = t3
    if t2 is not False:
        t31 = d_axis__encoder_is_linear(v_axis)
        t30 = t31
        if t30 is not False:
            t32 = v_axis.get('controller.homing.method')
            t33 = None if t32 is None else f_uses_index(t32)
            if t30 is None:
                t30 = False if t33 is False else None
            else:
                t30 = t33
        t34 = None if t30 is None else not t30
        if t2 is None:
            t2 = False if t34 is False else None
        else:
            t2 = t34
    t1 = t2
    if t1 is not False:
        t36 = v_axis.get('controller.homing.method')
        t37 = None if t36 is None else f_uses_hard_stop(t36)
        t35 = t37
        if t35 is not False:
            t38 = v_axis.get('controller.homing.method')
            t39 = None if t38 is None else f_uses_index(t38)
            if t35 is None:
                t35 = False if t39 is False else None
            else:
                t35 = t39
        t40 = None if t35 is None else not t35
        if t1 is None:
            t1 = False if t40 is False else None
        else:
            t1 = t40
    if t1 is not True:
        return 2 if t1 is False else None
    t43 = v_axis.get('gantry.racking_tolerance')
    t44 = v_other.get('gantry.racking_tolerance')
    t45 = None if t43 is None or t44 is None else f_smaller(t43, t44)
    t42 = t45
    if t42 is None and not ('#disputed' in v_axis and disputed(v_axis, ('gantry.racking_tolerance',))) and not ('#disputed' in v_other and disputed(v_other, ('gantry.racking_tolerance',))):
        t46 = v_axis.get('gantry.racking_tolerance')
        t42 = t46
    t41 = t42
    if t41 is None and not ('#disputed' in v_axis and disputed(v_axis, ('gantry.racking_tolerance',))) and not ('#disputed' in v_other and disputed(v_other, ('gantry.racking_tolerance',))):
        t47 = v_other.get('gantry.racking_tolerance')
        t41 = t47
    l_tolerance = t41
    t48 = v_axis.get('controller.homing.reference_position')
    t49 = d_axis__reference_due(v_axis)
    t50 = None if t48 is None or t49 is None else t48 - t49
    t51 = v_other.get('controller.homing.reference_position')
    t52 = d_axis__reference_due(v_other)
    t53 = None if t51 is None or t52 is None else t51 - t52
    t54 = None if t50 is None or t53 is None else t50 - t53
    l_shift = t54
    t55 = v_axis.get('mechanics.backlash')
    t56 = v_other.get('mechanics.backlash')
    t57 = None if t55 is None or t56 is None else t55 + t56
    t58 = None if t57 is None else div(t57, 2)
    l_play = t58
    t59 = None if l_shift is None else f_absolute(l_shift)
    t60 = None if t59 is None or l_play is None else t59 + l_play
    t61 = None if t60 is None or l_tolerance is None else t60 <= l_tolerance
    return None if t61 is None else 1 if t61 else 0

def r_gantry_partners_set_at_one_position(v_axis, v_other, v_machine):
    t6 = v_axis.get('gantry.role')
    t7 = None if t6 is None else t6 == 'leader'
    t5 = t7
    if t5 is not False:
        t8 = v_axis.get('motion')
        t9 = v_other.get('motion')
        t10 = None if t8 is None or t9 is None else t8 == t9
        if t5 is None:
            t5 = False if t10 is False else None
        else:
            t5 = t10
    t4 = t5
    if t4 is not False:
        t11 = v_axis.get('controller.homing')
        t12 = None if t11 is None else t11 is NONE
        t13 = None if t12 is None else not t12
        if t4 is None:
            t4 = False if t13 is False else None
        else:
            t4 = t13
    t3 = t4
    if t3 is not False:
        t14 = v_other.get('controller.homing')
        t15 = None if t14 is None else t14 is NONE
        t16 = None if t15 is None else not t15
        if t3 is None:
            t3 = False if t16 is False else None
        else:
            t3 = t16
    t2 = t3
    if t2 is not False:
        t17 = v_axis.get('controller.homing.method')
        t18 = None if t17 is None else f_sets_current_position(t17)
        if t2 is None:
            t2 = False if t18 is False else None
        else:
            t2 = t18
    t1 = t2
    if t1 is not False:
        t19 = v_other.get('controller.homing.method')
        t20 = None if t19 is None else f_sets_current_position(t19)
        if t1 is None:
            t1 = False if t20 is False else None
        else:
            t1 = t20
    if t1 is not True:
        return 2 if t1 is False else None
    t23 = v_axis.get('gantry.racking_tolerance')
    t24 = v_other.get('gantry.racking_tolerance')
    t25 = None if t23 is None or t24 is None else f_smaller(t23, t24)
    t22 = t25
    if t22 is None and not ('#disputed' in v_axis and disputed(v_axis, ('gantry.racking_tolerance',))) and not ('#disputed' in v_other and disputed(v_other, ('gantry.racking_tolerance',))):
        t26 = v_axis.get('gantry.racking_tolerance')
        t22 = t26
    t21 = t22
    if t21 is None and not ('#disputed' in v_axis and disputed(v_axis, ('gantry.racking_tolerance',))) and not ('#disputed' in v_other and disputed(v_other, ('gantry.racking_tolerance',))):
        t27 = v_other.get('gantry.racking_tolerance')
        t21 = t27
    l_tolerance = t21
    t28 = v_axis.get('controller.homing.reference_position')
    t29 = v_other.get('controller.homing.reference_position')
    t30 = None if t28 is None or t29 is None else t28 - t29
    l_shift = t30
    t31 = None if l_shift is None else f_absolute(l_shift)
    t32 = None if t31 is None or l_tolerance is None else t31 <= l_tolerance
    return None if t32 is None else 1 if t32 else 0

def r_gantry_partners_home_together(v_axis, v_other, v_machine):
    t3 = v_axis.get('gantry.role')
    t4 = None if t3 is None else t3 == 'leader'
    t2 = t4
    if t2 is not False:
        t5 = d_axis__stays_put_in_homing(v_axis)
        t6 = None if t5 is None else not t5
        if t2 is None:
            t2 = False if t6 is False else None
        else:
            t2 = t6
    t1 = t2
    if t1 is not False:
        t7 = d_axis__stays_put_in_homing(v_other)
        t8 = None if t7 is None else not t7
        if t1 is None:
            t1 = False if t8 is False else None
        else:
            t1 = t8
    if t1 is not True:
        return 2 if t1 is False else None
    t10 = v_axis.get('homes_after')
    t11 = v_axis.get('homes_after#partial')
    t12 = v_other.get('name')
    if t10 is None:
        t13 = None
    elif t12 is not None and t12 in t10:
        t13 = True
    else:
        t13 = None if t11 or (t12 is None and t10) else False
    t14 = None if t13 is None else not t13
    t9 = t14
    if t9 is not False:
        t15 = v_other.get('homes_after')
        t16 = v_other.get('homes_after#partial')
        t17 = v_axis.get('name')
        if t15 is None:
            t18 = None
        elif t17 is not None and t17 in t15:
            t18 = True
        else:
            t18 = None if t16 or (t17 is None and t15) else False
        t19 = None if t18 is None else not t18
        if t9 is None:
            t9 = False if t19 is False else None
        else:
            t9 = t19
    return None if t9 is None else 1 if t9 else 0

def r_rehome_interlock_inhibits_collision_partner(v_axis, v_machine):
    t3 = v_axis.get('gantry')
    t4 = None if t3 is None else t3 is NONE
    t2 = t4
    if t2 is not False:
        t5 = v_axis.get('interlocks')
        t6 = v_axis.get('interlocks#partial')
        if t5 is None:
            t7 = None
        else:
            t7 = None if t6 else False
            for v_lock in t5:
                t8 = d_axis_interlocks__doubts_position(v_lock)
                if t8 is True:
                    t7 = True
                    break
                if t8 is None:
                    t7 = None
        if t2 is None:
            t2 = False if t7 is False else None
        else:
            t2 = t7
    t1 = t2
    if t1 is not False:
        t10 = v_machine.get('collision_pairs')
        t11 = v_machine.get('collision_pairs#partial')
        if t10 is None:
            t12 = None
        else:
            t12 = None if t11 else False
            t13 = v_axis.get('name')
            for v_pair in metered(matching(v_machine, 'collision_pairs', 'first', t13), 4):
                t14 = v_pair.get('first')
                t15 = v_axis.get('name')
                t16 = None if t14 is None or t15 is None else t14 == t15
                if t16 is False:
                    continue
                if True is True and t16:
                    t12 = True
                    break
                if True is not False:
                    t12 = None
                    if t16 is None:
                        break
        t9 = t12
        if t9 is not True:
            t17 = v_machine.get('collision_pairs')
            t18 = v_machine.get('collision_pairs#partial')
            if t17 is None:
                t19 = None
            else:
                t19 = None if t18 else False
                t20 = v_axis.get('name')
                for v_pair in metered(matching(v_machine, 'collision_pairs', 'second', t20), 4):
                    t21 = v_pair.get('second')
                    t22 = v_axis.get('name')
                    t23 = None if t21 is None or t22 is None else t21 == t22
                    if t23 is False:
                        continue
                    if True is True and t23:
                        t19 = True
                        break
                    if True is not False:
                        t19 = None
                        if t23 is None:
                            break
            if t9 is None:
                t9 = True if t19 is True else None
            else:
                t9 = t19
        if t1 is None:
            t1 = False if t9 is False else None
        else:
            t1 = t9
    if t1 is not True:
        return 2 if t1 is False else None
    t24 = v_axis.get('interlocks')
    t25 = v_axis.get('interlocks#partial')
    if t24 is None:
        t26 = None
    else:
        t26 = None if t25 else True
        for v_lock in t24:
            t27 = d_axis_interlocks__doubts_position(v_lock)
            if t27 is False:
                continue
            t28 = v_lock.get('inhibits_partners')
            if t28 is False and t27:
                t26 = False
                break
            if t28 is not True:
                t26 = None
    return None if t26 is None else 1 if t26 else 0

def r_encoder_counts_match(v_axis, v_machine):
    t2 = v_axis.get('encoder.form')
    t3 = None if t2 is None else t2 == 'rotary'
    t1 = t3
    if t1 is not False:
        t5 = v_axis.get('encoder.kind')
        t6 = None if t5 is None else t5 == 'incremental'
        t4 = t6
        if t4 is not False:
            t7 = d_axis__quadrature_slip(v_axis)
            if t4 is None:
                t4 = False if t7 is False else None
            else:
                t4 = t7
        t8 = None if t4 is None else not t4
        if t1 is None:
            t1 = False if t8 is False else None
        else:
            t1 = t8
    if t1 is not True:
        return 2 if t1 is False else None
    t9 = v_axis.get('drive.counts_per_revolution')
    t10 = d_axis__encoder_counts_per_revolution(v_axis)
    t11 = None if t9 is None or t10 is None else eq(t9, t10)
    return None if t11 is None else 1 if t11 else 0

def r_encoder_counts_stated_alike(v_axis, v_machine):
    t1 = d_axis__encoder_is_linear(v_axis)
    t2 = None if t1 is None else not t1
    if t2 is not True:
        return 2 if t2 is False else None
    t3 = v_axis.get('encoder.lines_per_revolution')
    t4 = v_axis.get('encoder.evaluation')
    t5 = None if t3 is None or t4 is None else t3 * t4
    t6 = None if t5 is None else t5 * 1
    l_by_lines = t6
    t7 = l_by_lines
    if t7 is None:
        t8 = v_axis.get('encoder.counts_per_revolution')
        t7 = t8
    t10 = v_axis.get('encoder.counts_per_revolution')
    t9 = t10
    if t9 is None and not ('#disputed' in v_axis and disputed(v_axis, ('encoder.counts_per_revolution',))):
        t9 = l_by_lines
    t11 = None if t7 is None or t9 is None else eq(t7, t9)
    return None if t11 is None else 1 if t11 else 0

def r_encoder_counts_within_capability(v_axis, v_machine):
    t2 = d_axis__encoder_is_linear(v_axis)
    t3 = None if t2 is None else not t2
    t1 = t3
    if t1 is not False:
        t4 = v_axis.get('encoder.kind')
        t5 = None if t4 is None else t4 == 'incremental'
        t6 = None if t5 is None else not t5
        if t1 is None:
            t1 = False if t6 is False else None
        else:
            t1 = t6
    if t1 is not True:
        return 2 if t1 is False else None
    t7 = d_axis__encoder_counts_per_revolution(v_axis)
    t9 = v_axis.get('encoder.capability.counts_per_revolution')
    t8 = t9
    if t8 is None and not ('#disputed' in v_axis and disputed(v_axis, ('encoder.capability.counts_per_revolution',))):
        t10 = d_axis__encoder_counts_per_revolution(v_axis)
        t8 = t10
    t11 = None if t7 is None or t8 is None else t7 <= t8
    return None if t11 is None else 1 if t11 else 0

def r_controller_scaling_stated_alike(v_axis, v_machine):
    t1 = v_axis.get('controller.scaling.counts')
    t2 = v_axis.get('controller.scaling.distance')
    t3 = None if t1 is None or t2 is None else div(t1, t2)
    l_by_pair = t3
    t4 = l_by_pair
    if t4 is None:
        t5 = v_axis.get('controller.counts_per_unit')
        t4 = t5
    t7 = v_axis.get('controller.counts_per_unit')
    t6 = t7
    if t6 is None and not ('#disputed' in v_axis and disputed(v_axis, ('controller.counts_per_unit',))):
        t6 = l_by_pair
    t8 = None if t4 is None or t6 is None else eq(t4, t6)
    return None if t8 is None else 1 if t8 else 0

def r_controller_scaling_exact(v_axis, v_machine):
    t2 = d_axis__ratios_are_settled(v_axis)
    t1 = t2
    if t1 is not False:
        t3 = d_axis__scaling_is_gross(v_axis)
        t4 = None if t3 is None else not t3
        if t1 is None:
            t1 = False if t4 is False else None
        else:
            t1 = t4
    if t1 is not True:
        return 2 if t1 is False else None
    t5 = d_axis__controller_counts_per_unit(v_axis)
    t6 = d_axis__controller_counts_per_unit_due(v_axis)
    t7 = None if t5 is None or t6 is None else div(t5, t6)
    t8 = None if t7 is None else t7 - 1
    l_error = t8
    t9 = d_axis__scaling_tolerance(v_axis)
    t10 = d_axis__scaling_allowance(v_axis)
    t11 = None if t9 is None or t10 is None else f_larger(t9, t10)
    l_tolerance = t11
    t13 = d_axis__long_run(v_axis)
    t12 = t13
    if t12 is None and not ('#disputed' in v_axis and disputed(v_axis, ('controller.type', 'controller.cycle', 'mechanics.travel', 'mechanics.travel.max', 'mechanics.limit_switches', 'mechanics.limit_switches.positive', 'controller.software_limits.max', 'mechanics.travel.min', 'mechanics.limit_switches.negative', 'controller.software_limits.min'))):
        t14 = d_axis__feed_constant(v_axis)
        t15 = None if t14 is None else 1000 * t14
        t12 = t15
    l_reach = t12
    t16 = None if l_error is None else f_absolute(l_error)
    t17 = None if t16 is None or l_tolerance is None else t16 <= l_tolerance
    return None if t17 is None else 1 if t17 else 0

def r_drive_gear_exact(v_axis, v_machine):
    t3 = v_axis.get('drive.gear')
    t4 = None if t3 is None else t3 is NONE
    t5 = None if t4 is None else not t4
    t2 = t5
    if t2 is not False:
        t6 = d_axis__ratios_are_settled(v_axis)
        if t2 is None:
            t2 = False if t6 is False else None
        else:
            t2 = t6
    t1 = t2
    if t1 is not False:
        t7 = d_axis__gear_upside_down(v_axis)
        t8 = None if t7 is None else not t7
        if t1 is None:
            t1 = False if t8 is False else None
        else:
            t1 = t8
    if t1 is not True:
        return 2 if t1 is False else None
    t9 = v_axis.get('drive.gear.numerator')
    t10 = v_axis.get('drive.gear.denominator')
    t11 = None if t9 is None or t10 is None else div(t9, t10)
    t12 = d_axis__gear_due_as_typed(v_axis)
    t13 = None if t11 is None or t12 is None else div(t11, t12)
    l_set_over_due = t13
    t14 = None if l_set_over_due is None else l_set_over_due - 1
    l_error = t14
    t15 = None if l_set_over_due is None else f_involves_pi(l_set_over_due)
    if t15 is None:
        t16 = None
    elif t15:
        t17 = v_axis.get('@s:rounding_of_pi', Fraction(1, 1000000))
        t16 = t17
    else:
        t16 = 0
    l_rounding = t16
    t18 = d_axis__scaling_allowance(v_axis)
    t19 = None if l_rounding is None or t18 is None else f_larger(l_rounding, t18)
    l_tolerance = t19
    t20 = d_axis__gear_due_as_typed(v_axis)
    t21 = None if t20 is None or l_rounding is None else f_simple_fraction(t20, l_rounding)
    l_best = t21
    t22 = d_axis__drive_gear(v_axis)
    t23 = d_axis__drive_gear_due(v_axis)
    t24 = None if t22 is None or t23 is None else div(t22, t23)
    t25 = None if t24 is None else t24 - 1
    t26 = d_axis__long_run(v_axis)
    t27 = None if t25 is None or t26 is None else t25 * t26
    l_too_long = t27
    t28 = None if l_error is None else f_absolute(l_error)
    t29 = None if t28 is None or l_tolerance is None else t28 <= l_tolerance
    return None if t29 is None else 1 if t29 else 0

def r_drive_gear_within_limits(v_axis, v_machine):
    t2 = v_axis.get('drive.gear')
    t3 = None if t2 is None else t2 is NONE
    t4 = None if t3 is None else not t3
    t1 = t4
    if t1 is not False:
        t6 = v_axis.get('drive.gear.min_ratio')
        t7 = v_axis.get('drive.gear.max_ratio')
        t8 = None if t6 is None or t7 is None else t6 <= t7
        t5 = t8
        if t5 is None and not ('#disputed' in v_axis and disputed(v_axis, ('drive.gear.min_ratio', 'drive.gear.max_ratio'))):
            t5 = True
        if t1 is None:
            t1 = False if t5 is False else None
        else:
            t1 = t5
    if t1 is not True:
        return 2 if t1 is False else None
    t9 = v_axis.get('drive.gear.numerator')
    t10 = v_axis.get('drive.gear.denominator')
    t11 = None if t9 is None or t10 is None else div(t9, t10)
    l_ratio = t11
    t12 = v_axis.get('drive.gear.min_ratio')
    t13 = v_axis.get('drive.gear.max_ratio')
    t14 = None if l_ratio is None or t12 is None or t13 is None else between(l_ratio, t12, t13)
    return None if t14 is None else 1 if t14 else 0

def r_drive_gear_limits_in_order(v_axis, v_machine):
    t1 = v_axis.get('drive.gear')
    t2 = None if t1 is None else t1 is NONE
    t3 = None if t2 is None else not t2
    if t3 is not True:
        return 2 if t3 is False else None
    t4 = v_axis.get('drive.gear.min_ratio')
    t5 = v_axis.get('drive.gear.max_ratio')
    t6 = None if t4 is None or t5 is None else t4 <= t5
    return None if t6 is None else 1 if t6 else 0

def r_drive_position_factors_agree(v_axis, v_machine):
    t3 = d_axis__has_driving_shaft(v_axis)
    t2 = t3
    if t2 is not False:
        t4 = d_axis__ratios_are_settled(v_axis)
        if t2 is None:
            t2 = False if t4 is False else None
        else:
            t2 = t4
    t1 = t2
    if t1 is not False:
        t5 = d_axis__drive_ratio_upside_down(v_axis)
        t6 = None if t5 is None else not t5
        if t1 is None:
            t1 = False if t6 is False else None
        else:
            t1 = t6
    if t1 is not True:
        return 2 if t1 is False else None
    t7 = d_axis__units_per_motor_rev(v_axis)
    t8 = d_axis__drive_units_per_motor_rev(v_axis)
    t9 = None if t7 is None or t8 is None else div(t7, t8)
    l_true_over_stated = t9
    t10 = None if l_true_over_stated is None else div(1, l_true_over_stated)
    t11 = None if t10 is None else t10 - 1
    l_error = t11
    t12 = None if l_true_over_stated is None else f_involves_pi(l_true_over_stated)
    if t12 is None:
        t13 = None
    elif t12:
        t14 = v_axis.get('@s:rounding_of_pi', Fraction(1, 1000000))
        t13 = t14
    else:
        t13 = 0
    t15 = d_axis__scaling_allowance(v_axis)
    t16 = None if t13 is None or t15 is None else f_larger(t13, t15)
    l_tolerance = t16
    t17 = None if l_error is None else f_absolute(l_error)
    t18 = None if t17 is None or l_tolerance is None else t17 <= l_tolerance
    return None if t18 is None else 1 if t18 else 0

def r_ratio_typed_short(v_axis, v_machine):
    t3 = d_axis__gear_ratio(v_axis)
    t4 = d_axis__likely_gear_ratio(v_axis)
    t5 = None if t3 is None or t4 is None else eq(t3, t4)
    t2 = t5
    if t2 is not True:
        t6 = d_axis__short_stage_is_known(v_axis)
        if t2 is None:
            t2 = True if t6 is True else None
        else:
            t2 = t6
    t1 = t2
    if t1 is not False:
        t7 = d_axis__stated_encoder_ratio(v_axis)
        t8 = d_axis__likely_encoder_ratio(v_axis)
        t9 = None if t7 is None or t8 is None else eq(t7, t8)
        if t1 is None:
            t1 = False if t9 is False else None
        else:
            t1 = t9
    return None if t1 is None else 1 if t1 else 0

def r_ratio_as_exact_as_on_record(v_axis, v_machine):
    t2 = d_axis__short_stage_is_known(v_axis)
    t1 = t2
    if t1 is not True:
        t3 = d_axis__gear_ratio(v_axis)
        t4 = d_axis__likely_gear_ratio(v_axis)
        t5 = None if t3 is None or t4 is None else eq(t3, t4)
        if t1 is None:
            t1 = True if t5 is True else None
        else:
            t1 = t5
    if t1 is not True:
        return 2 if t1 is False else None
    t6 = d_axis__gear_ratio(v_axis)
    t7 = d_axis__likely_gear_ratio(v_axis)
    t8 = None if t6 is None or t7 is None else eq(t6, t7)
    return None if t8 is None else 1 if t8 else 0

def r_final_element_fits_axis(v_axis, v_machine):
    t1 = v_axis.get('motion')
    t2 = None if t1 is None else t1 == 'linear'
    if t2 is not True:
        return 2 if t2 is False else None
    t4 = v_axis.get('mechanics.final.kind')
    t5 = None if t4 is None else t4 == 'rotary_table'
    t6 = None if t5 is None else not t5
    t3 = t6
    if t3 is not False:
        t8 = v_axis.get('mechanics.final.kind')
        t9 = None if t8 is None else t8 == 'direct'
        t10 = None if t9 is None else not t9
        t7 = t10
        if t7 is not True:
            t12 = v_axis.get('mechanics.stages')
            t13 = v_axis.get('mechanics.stages#partial')
            if t12 is None or t13:
                t14 = None
            else:
                t15 = True
                t14 = 0
                for v_stage in t12:
                    t14 += 1
                t14 = t14 if t15 else None
            t16 = None if t14 is None else eq(t14, 0)
            t11 = t16
            if t11 is not False:
                t18 = v_axis.get('encoder.form')
                t19 = None if t18 is None else t18 == 'rotary'
                t20 = None if t19 is None else not t19
                t17 = t20
                if t17 is None and not ('#disputed' in v_axis and disputed(v_axis, ('encoder.form',))):
                    t17 = True
                if t11 is None:
                    t11 = False if t17 is False else None
                else:
                    t11 = t17
            if t7 is None:
                t7 = True if t11 is True else None
            else:
                t7 = t11
        if t3 is None:
            t3 = False if t7 is False else None
        else:
            t3 = t7
    return None if t3 is None else 1 if t3 else 0

def r_mechanics_stated_alike(v_axis, v_machine):
    t1 = v_axis.get('mechanics.stages')
    t2 = v_axis.get('mechanics.stages#partial')
    if t1 is None or t2:
        t3 = None
    else:
        t4 = True
        t3 = 1
        for v_stage in t1:
            t5 = d_axis_mechanics_stages__ratio_by_teeth(v_stage)
            if t5 is None:
                t4 = False
                break
            t3 = capped(t3 * t5)
            if t3 is None:
                t4 = False
                break
        t3 = t3 if t4 else None
    l_by_teeth = t3
    t7 = v_axis.get('mechanics.stated_ratio')
    t6 = t7
    if t6 is None and not ('#disputed' in v_axis and disputed(v_axis, ('mechanics.stated_ratio',))):
        t8 = d_axis__gear_ratio(v_axis)
        t6 = t8
    l_by_papers = t6
    t9 = d_axis__stages_agree(v_axis)
    t10 = None if t9 is None else not t9
    if t10 is None:
        t11 = None
    elif t10:
        t11 = 'teeth and ratio of a stage differ'
    else:
        t12 = d_axis__lead_agrees(v_axis)
        t13 = None if t12 is None else not t12
        if t13 is None:
            t14 = None
        elif t13:
            t14 = 'lead of the screw and starts x pitch differ'
        else:
            t15 = d_axis__gear_ratio(v_axis)
            t16 = None if l_by_papers is None or t15 is None else l_by_papers * t15
            t17 = v_axis.get('@s:plate_rounding', Fraction(1, 100))
            t18 = None if t16 is None or t17 is None else within(t16, t17, 1)
            if t18 is None:
                t19 = None
            elif t18:
                t19 = 'upside down the stages make the ratio on the papers, so the sides are likely swapped'
            else:
                t19 = "the ratio on the machine's papers is not that of the stages"
            t14 = t19
        t11 = t14
    l_what = t11
    t22 = v_axis.get('mechanics.stages')
    t23 = v_axis.get('mechanics.stages#partial')
    if t22 is None:
        t24 = None
    else:
        t24 = None if t23 else True
        for v_stage in t22:
            t25 = d_axis_mechanics_stages__ratio_by_teeth(v_stage)
            t26 = d_axis_mechanics_stages__likely_ratio(v_stage)
            t27 = None if t25 is None or t26 is None else eq(t25, t26)
            if t27 is False:
                t24 = False
                break
            if t27 is None:
                t24 = None
    t21 = t24
    if t21 is not False:
        t29 = v_axis.get('mechanics.final.kind')
        t30 = None if t29 is None else t29 == 'screw'
        t31 = None if t30 is None else not t30
        t28 = t31
        if t28 is not True:
            t32 = d_axis__lead_by_pitch(v_axis)
            t33 = None if t32 is None else div(t32, 1)
            t34 = d_axis__screw_feed(v_axis)
            t35 = None if t33 is None or t34 is None else eq(t33, t34)
            if t28 is None:
                t28 = True if t35 is True else None
            else:
                t28 = t35
        if t21 is None:
            t21 = False if t28 is False else None
        else:
            t21 = t28
    t20 = t21
    if t20 is not False:
        t36 = d_axis__plate_agrees(v_axis)
        if t20 is None:
            t20 = False if t36 is False else None
        else:
            t20 = t36
    return None if t20 is None else 1 if t20 else 0

def r_cycle_is_whole_counts(v_axis, v_machine):
    t3 = v_axis.get('controller.type')
    t4 = None if t3 is None else t3 == 'modulo'
    t2 = t4
    if t2 is not False:
        t5 = d_axis__ratios_are_settled(v_axis)
        if t2 is None:
            t2 = False if t5 is False else None
        else:
            t2 = t5
    t1 = t2
    if t1 is not False:
        t6 = d_axis__cycle_in_mistaken_unit(v_axis)
        t7 = None if t6 is None else not t6
        if t1 is None:
            t1 = False if t7 is False else None
        else:
            t1 = t7
    if t1 is not True:
        return 2 if t1 is False else None
    t8 = d_axis__cycle_counts(v_axis)
    t9 = None if t8 is None else f_nearest_remainder(t8, 1)
    t10 = d_axis__counts_per_unit(v_axis)
    t11 = None if t9 is None or t10 is None else div(t9, t10)
    l_drift = t11
    t13 = d_axis__cycle_counts(v_axis)
    t14 = None if t13 is None else is_whole(t13)
    t12 = t14
    if t12 is not True:
        t15 = v_axis.get('controller.remainder_carried')
        if t12 is None:
            t12 = True if t15 is True else None
        else:
            t12 = t15
    return None if t12 is None else 1 if t12 else 0

def r_hard_stop_homing_presses_gently(v_axis, v_machine):
    t3 = d_axis__has_driving_shaft(v_axis)
    t2 = t3
    if t2 is not False:
        t4 = d_axis__homes_by_method(v_axis)
        if t2 is None:
            t2 = False if t4 is False else None
        else:
            t2 = t4
    t1 = t2
    if t1 is not False:
        t5 = v_axis.get('controller.homing.method')
        t6 = None if t5 is None else f_uses_hard_stop(t5)
        if t1 is None:
            t1 = False if t6 is False else None
        else:
            t1 = t6
    if t1 is not True:
        return 2 if t1 is False else None
    t7 = v_axis.get('controller.homing.torque_limit')
    t8 = v_axis.get('@s:hard_stop_torque_share', Fraction(1, 2))
    t9 = v_axis.get('motor.rated_torque')
    t10 = None if t8 is None or t9 is None else t8 * t9
    t11 = None if t7 is None or t10 is None else t7 <= t10
    return None if t11 is None else 1 if t11 else 0

def r_hard_stop_homing_carries_load(v_axis, v_machine):
    t4 = d_axis__has_driving_shaft(v_axis)
    t3 = t4
    if t3 is not False:
        t5 = d_axis__homes_by_method(v_axis)
        if t3 is None:
            t3 = False if t5 is False else None
        else:
            t3 = t5
    t2 = t3
    if t2 is not False:
        t6 = v_axis.get('controller.homing.method')
        t7 = None if t6 is None else f_uses_hard_stop(t6)
        if t2 is None:
            t2 = False if t7 is False else None
        else:
            t2 = t7
    t1 = t2
    if t1 is not False:
        t8 = d_axis__hangs(v_axis)
        if t1 is None:
            t1 = False if t8 is False else None
        else:
            t1 = t8
    if t1 is not True:
        return 2 if t1 is False else None
    t9 = d_axis__gravity_torque(v_axis)
    l_load_torque = t9
    t10 = v_axis.get('controller.homing.torque_limit')
    t11 = None if t10 is None or l_load_torque is None else t10 > l_load_torque
    return None if t11 is None else 1 if t11 else 0

def r_hard_stop_homing_minds_following_error(v_axis, v_machine):
    t2 = d_axis__homes_by_method(v_axis)
    t1 = t2
    if t1 is not False:
        t3 = v_axis.get('controller.homing.method')
        t4 = None if t3 is None else f_uses_hard_stop(t3)
        if t1 is None:
            t1 = False if t4 is False else None
        else:
            t1 = t4
    if t1 is not True:
        return 2 if t1 is False else None
    t5 = v_axis.get('controller.homing.following_error_reaction')
    t6 = None if t5 is None else t5 == 'normal'
    t7 = None if t6 is None else not t6
    return None if t7 is None else 1 if t7 else 0

def r_homing_direction_fits_method(v_axis, v_machine):
    t2 = d_axis__homes_by_method(v_axis)
    t1 = t2
    if t1 is not False:
        t3 = v_axis.get('controller.homing.method')
        t4 = None if t3 is None else f_sets_current_position(t3)
        t5 = None if t4 is None else not t4
        if t1 is None:
            t1 = False if t5 is False else None
        else:
            t1 = t5
    if t1 is not True:
        return 2 if t1 is False else None
    t7 = v_axis.get('controller.homing.direction')
    t8 = None if t7 is None else t7 == 'negative'
    t6 = t8
    if t6 is None and not ('#disputed' in v_axis and disputed(v_axis, ('controller.homing.direction',))):
        t9 = v_axis.get('controller.homing.method')
        t10 = None if t9 is None else f_searches_negative(t9)
        t6 = t10
    t11 = v_axis.get('controller.homing.method')
    t12 = None if t11 is None else f_searches_negative(t11)
    t13 = None if t6 is None or t12 is None else t6 == t12
    return None if t13 is None else 1 if t13 else 0

def r_forgetful_axis_not_set_by_hand(v_axis, v_machine):
    t3 = d_axis__forgets_position(v_axis)
    t2 = t3
    if t2 is not False:
        t4 = v_axis.get('controller.type')
        t5 = None if t4 is None else t4 == 'linear'
        if t2 is None:
            t2 = False if t5 is False else None
        else:
            t2 = t5
    t1 = t2
    if t1 is not False:
        t6 = d_axis__homes_by_method(v_axis)
        if t1 is None:
            t1 = False if t6 is False else None
        else:
            t1 = t6
    if t1 is not True:
        return 2 if t1 is False else None
    t7 = v_axis.get('controller.homing.method')
    t8 = None if t7 is None else f_sets_current_position(t7)
    t9 = None if t8 is None else not t8
    return None if t9 is None else 1 if t9 else 0

def r_reference_at_its_own_end(v_axis, v_machine):
    t4 = d_axis__switches_in_order(v_axis)
    t3 = t4
    if t3 is not False:
        t5 = d_axis__stops_in_order(v_axis)
        if t3 is None:
            t3 = False if t5 is False else None
        else:
            t3 = t5
    t2 = t3
    if t2 is not False:
        t6 = d_axis__direction_fits_method(v_axis)
        if t2 is None:
            t2 = False if t6 is False else None
        else:
            t2 = t6
    t1 = t2
    if t1 is not False:
        t7 = d_axis__reference_is_on_drawing(v_axis)
        if t1 is None:
            t1 = False if t7 is False else None
        else:
            t1 = t7
    if t1 is not True:
        return 2 if t1 is False else None
    t8 = d_axis__reference_has_other_sign(v_axis)
    if t8 is None:
        t9 = None
    elif t8:
        t9 = 'the amount is right, the sign is the other one'
    else:
        t9 = 'that lies nearer to the other end of the axis'
    l_slip = t9
    t11 = d_axis__reference_has_other_sign(v_axis)
    t12 = None if t11 is None else not t11
    t10 = t12
    if t10 is not False:
        t13 = d_axis__reference_is_of_other_end(v_axis)
        t14 = None if t13 is None else not t13
        if t10 is None:
            t10 = False if t14 is False else None
        else:
            t10 = t14
    return None if t10 is None else 1 if t10 else 0

def r_reference_where_switch_stands(v_axis, v_machine):
    t4 = d_axis__switches_in_order(v_axis)
    t3 = t4
    if t3 is not False:
        t5 = d_axis__reference_is_on_drawing(v_axis)
        if t3 is None:
            t3 = False if t5 is False else None
        else:
            t3 = t5
    t2 = t3
    if t2 is not False:
        t6 = d_axis__reference_is_misplaced(v_axis)
        t7 = None if t6 is None else not t6
        if t2 is None:
            t2 = False if t7 is False else None
        else:
            t2 = t7
    t1 = t2
    if t1 is not False:
        t8 = d_axis__reference_is_within_travel(v_axis)
        if t1 is None:
            t1 = False if t8 is False else None
        else:
            t1 = t8
    if t1 is not True:
        return 2 if t1 is False else None
    t9 = d_axis__reference_shift(v_axis)
    l_shift = t9
    t12 = v_axis.get('controller.homing.method')
    t13 = None if t12 is None else f_uses_index(t12)
    t11 = t13
    if t11 is not False:
        t14 = None if l_shift is None else f_absolute(l_shift)
        t15 = v_axis.get('@s:index_step_tolerance', Fraction(1, 100))
        t16 = None if t15 is None else 1 - t15
        t17 = d_axis__units_per_encoder_rev(v_axis)
        t18 = None if t16 is None or t17 is None else t16 * t17
        t19 = None if t18 is None else t18 * 1
        t20 = None if t14 is None or t19 is None else t14 >= t19
        if t11 is None:
            t11 = False if t20 is False else None
        else:
            t11 = t20
    t10 = t11
    if t10 is not False:
        t21 = d_axis__units_per_encoder_rev(v_axis)
        t22 = None if t21 is None else t21 * 1
        t23 = None if l_shift is None or t22 is None else f_nearest_remainder(l_shift, t22)
        t24 = None if t23 is None else f_absolute(t23)
        t25 = v_axis.get('@s:index_step_tolerance', Fraction(1, 100))
        t26 = d_axis__units_per_encoder_rev(v_axis)
        t27 = None if t25 is None or t26 is None else t25 * t26
        t28 = None if t27 is None else t27 * 1
        t29 = None if t24 is None or t28 is None else t24 <= t28
        if t10 is None:
            t10 = False if t29 is False else None
        else:
            t10 = t29
    l_is_revolutions = t10
    if l_is_revolutions is None:
        t30 = None
    elif l_is_revolutions:
        t30 = 'a whole number of encoder revolutions: another index pulse was meant'
    else:
        t30 = 'more than calibration explains'
    l_cause = t30
    t32 = None if l_shift is None else f_absolute(l_shift)
    t33 = d_axis__reference_tolerance(v_axis)
    t34 = None if t32 is None or t33 is None else t32 <= t33
    t31 = t34
    if t31 is not False:
        t35 = None if l_is_revolutions is None else not l_is_revolutions
        if t31 is None:
            t31 = False if t35 is False else None
        else:
            t31 = t35
    return None if t31 is None else 1 if t31 else 0

def r_reference_within_travel(v_axis, v_machine):
    t5 = d_axis__homes_by_method(v_axis)
    t4 = t5
    if t4 is not False:
        t6 = v_axis.get('controller.type')
        t7 = None if t6 is None else t6 == 'linear'
        if t4 is None:
            t4 = False if t7 is False else None
        else:
            t4 = t7
    t3 = t4
    if t3 is not False:
        t8 = v_axis.get('mechanics.travel')
        t9 = None if t8 is None else t8 is NONE
        t10 = None if t9 is None else not t9
        if t3 is None:
            t3 = False if t10 is False else None
        else:
            t3 = t10
    t2 = t3
    if t2 is not False:
        t11 = v_axis.get('mechanics.travel.min')
        t12 = v_axis.get('mechanics.travel.max')
        t13 = None if t11 is None or t12 is None else t11 < t12
        if t2 is None:
            t2 = False if t13 is False else None
        else:
            t2 = t13
    t1 = t2
    if t1 is not False:
        t15 = d_axis__reference_is_misplaced(v_axis)
        t14 = t15
        if t14 is None and not ('#disputed' in v_axis and disputed(v_axis, ('controller.homing', 'controller.homing.method', 'controller.type', 'mechanics.travel', 'controller.homing.switch', 'mechanics.limit_switches', 'encoder.form', 'controller.homing.reference_position', 'controller.homing.switch.position', 'mechanics.limit_switches.negative', 'mechanics.limit_switches.positive', 'mechanics.travel.min', 'mechanics.travel.max', 'controller.homing.index_after_switch', 'mechanics.final.kind', 'mechanics.final.lead', 'mechanics.final.starts', 'mechanics.final.pitch', 'mechanics.final.teeth', 'mechanics.final.helix', 'mechanics.final.module', 'mechanics.final.diameter', 'motion', 'encoder.mounted_on', 'mechanics.stages', 'mechanics.stages[].motor_turns_per_load_turn', 'mechanics.stages[].load_side_teeth', 'mechanics.stages[].motor_side_teeth', 'encoder.turns_per_driving_shaft_turn'))):
            t14 = False
        t16 = None if t14 is None else not t14
        if t1 is None:
            t1 = False if t16 is False else None
        else:
            t1 = t16
    if t1 is not True:
        return 2 if t1 is False else None
    t17 = d_axis__reference_is_within_travel(v_axis)
    return None if t17 is None else 1 if t17 else 0

def r_reference_within_cycle(v_axis, v_machine):
    t3 = d_axis__homes_by_method(v_axis)
    t2 = t3
    if t2 is not False:
        t4 = v_axis.get('controller.type')
        t5 = None if t4 is None else t4 == 'modulo'
        if t2 is None:
            t2 = False if t5 is False else None
        else:
            t2 = t5
    t1 = t2
    if t1 is not False:
        t6 = d_axis__cycle_in_mistaken_unit(v_axis)
        t7 = None if t6 is None else not t6
        if t1 is None:
            t1 = False if t7 is False else None
        else:
            t1 = t7
    if t1 is not True:
        return 2 if t1 is False else None
    t8 = v_axis.get('controller.homing.reference_position')
    t9 = d_axis__cycle(v_axis)
    t10 = None if t8 is None or t9 is None else f_remainder(t8, t9)
    l_reduced = t10
    t11 = v_axis.get('controller.homing.reference_position')
    t12 = d_axis__cycle(v_axis)
    t13 = None if t11 is None or t12 is None else f_nearest_remainder(t11, t12)
    l_about_zero = t13
    t14 = v_axis.get('controller.homing.reference_position')
    t15 = None if t14 is None else f_absolute(t14)
    t16 = v_axis.get('controller.cycle')
    t17 = None if t15 is None or t16 is None else t15 < t16
    return None if t17 is None else 1 if t17 else 0

def r_homing_order_without_circle(v_machine):
    t2 = v_machine.get('axes')
    t3 = v_machine.get('axes#partial')
    if t2 is None or t3:
        t4 = None
    else:
        t5 = True
        t4 = 0
        for v_axis in metered(t2, 1):
            t4 += 1
        t4 = t4 if t5 else None
    t6 = None if t4 is None else t4 > 1
    t1 = t6
    if t1 is not True:
        t8 = v_machine.get('axes')
        t9 = v_machine.get('axes#partial')
        if t8 is None or t9:
            t10 = None
        else:
            t11 = True
            t10 = 0
            for v_axis in metered(t8, 3):
                t12 = v_axis.get('homes_after')
                t13 = v_axis.get('homes_after#partial')
                t14 = v_axis.get('name')
                if t12 is None:
                    t15 = None
                elif t14 is not None and t14 in charged(t12, 0.1):
                    t15 = True
                else:
                    t15 = None if t13 or (t14 is None and charged(t12, 0.1)) else False
                if t15 is False:
                    continue
                if t15 is None:
                    t11 = False
                    break
                t10 += 1
            t10 = t10 if t11 else None
        t16 = None if t10 is None else eq(t10, 1)
        t7 = t16
        if t7 is None and not ('#disputed' in v_machine and disputed(v_machine, ('axes', 'axes[].homes_after', 'axes[].name'))):
            t7 = False
        if t1 is None:
            t1 = True if t7 is True else None
        else:
            t1 = t7
    if t1 is not True:
        return 2 if t1 is False else None
    t17 = v_machine.get('axes')
    t18 = v_machine.get('axes#partial')
    if t17 is None:
        t19 = None
    else:
        t19 = None if t18 else True
        for v_axis in metered(t17, 5):
            t20 = v_axis.get('homes_after')
            t21 = v_axis.get('homes_after#partial')
            t22 = v_axis.get('name')
            if t20 is None:
                t23 = None
            elif t22 is not None and t22 in charged(t20, 0.1):
                t23 = True
            else:
                t23 = None if t21 or (t22 is None and charged(t20, 0.1)) else False
            t24 = None if t23 is None else not t23
            if t24 is False:
                t19 = False
                break
            if t24 is None:
                t19 = None
    return None if t19 is None else 1 if t19 else 0

def r_homing_order_parts_collision_pairs(v_machine):
    t1 = v_machine.get('axes')
    t2 = v_machine.get('axes#partial')
    if t1 is None or t2:
        t3 = None
    else:
        t4 = True
        t3 = 0
        for v_axis in metered(t1, 1):
            t3 += 1
        t3 = t3 if t4 else None
    t5 = None if t3 is None else t3 > 1
    if t5 is not True:
        return 2 if t5 is False else None
    t6 = v_machine.get('collision_pairs')
    t7 = v_machine.get('collision_pairs#partial')
    if t6 is None:
        t8 = None
    else:
        t8 = None if t7 else True
        for v_pair in metered(t6, 2):
            t9 = v_machine.get('axes')
            t10 = v_machine.get('axes#partial')
            if t9 is None:
                t11 = None
            else:
                t11 = None if t10 else True
                t12 = v_pair.get('first')
                for v_early in metered(matching(v_machine, 'axes', 'name', t12), 4):
                    t13 = v_early.get('name')
                    t14 = v_pair.get('first')
                    t15 = None if t13 is None or t14 is None else t13 == t14
                    if t15 is False:
                        continue
                    t16 = v_machine.get('axes')
                    t17 = v_machine.get('axes#partial')
                    if t16 is None:
                        t18 = None
                    else:
                        t18 = None if t17 else True
                        t19 = v_pair.get('second')
                        for v_late in metered(matching(v_machine, 'axes', 'name', t19), 22):
                            t20 = v_late.get('name')
                            t21 = v_pair.get('second')
                            t22 = None if t20 is None or t21 is None else t20 == t21
                            if t22 is False:
                                continue
                            t28 = d_axis__stays_put_in_homing(v_early)
                            t27 = t28
                            if t27 is not True:
                                t29 = d_axis__stays_put_in_homing(v_late)
                                if t27 is None:
                                    t27 = True if t29 is True else None
                                else:
                                    t27 = t29
                            t26 = t27
                            if t26 is not True:
                                t31 = v_early.get('homes_after_stranger')
                                t30 = t31
                                if t30 is None and not ('#disputed' in v_early and disputed(v_early, ('homes_after_stranger',))):
                                    t30 = False
                                if t26 is None:
                                    t26 = True if t30 is True else None
                                else:
                                    t26 = t30
                            t25 = t26
                            if t25 is not True:
                                t33 = v_late.get('homes_after_stranger')
                                t32 = t33
                                if t32 is None and not ('#disputed' in v_late and disputed(v_late, ('homes_after_stranger',))):
                                    t32 = False
                                if t25 is None:
                                    t25 = True if t32 is True else None
                                else:
                                    t25 = t32
                            t24 = t25
                            if t24 is not True:
                                t34 = v_early.get('homes_after')
                                t35 = v_early.get('homes_after#partial')
                                t36 = v_late.get('name')
                                if t34 is None:
                                    t37 = None
                                elif t36 is not None and t36 in charged(t34, 0.1):
                                    t37 = True
                                else:
                                    t37 = None if t35 or (t36 is None and charged(t34, 0.1)) else False
                                if t24 is None:
                                    t24 = True if t37 is True else None
                                else:
                                    t24 = t37
                            t23 = t24
                            if t23 is not True:
                                t38 = v_late.get('homes_after')
                                t39 = v_late.get('homes_after#partial')
                                t40 = v_early.get('name')
                                if t38 is None:
                                    t41 = None
                                elif t40 is not None and t40 in charged(t38, 0.1):
                                    t41 = True
                                else:
                                    t41 = None if t39 or (t40 is None and charged(t38, 0.1)) else False
                                if t23 is None:
                                    t23 = True if t41 is True else None
                                else:
                                    t23 = t41
                            if t23 is False and t22:
                                t18 = False
                                break
                            if t23 is not True:
                                t18 = None
                                if t22 is None:
                                    break
                    if t18 is False and t15:
                        t11 = False
                        break
                    if t18 is not True:
                        t11 = None
                        if t15 is None:
                            break
            if t11 is False:
                t8 = False
                break
            if t11 is None:
                t8 = None
    return None if t8 is None else 1 if t8 else 0

def r_homing_method_not_reserved(v_axis, v_machine):
    t1 = v_axis.get('controller.homing')
    t2 = None if t1 is None else t1 is NONE
    t3 = None if t2 is None else not t2
    if t3 is not True:
        return 2 if t3 is False else None
    t4 = v_axis.get('controller.homing.method')
    t5 = None if t4 is None else f_is_reserved(t4)
    t6 = None if t5 is None else not t5
    return None if t6 is None else 1 if t6 else 0

def r_homing_method_has_known_traits(v_axis, v_machine):
    t1 = d_axis__homes(v_axis)
    if t1 is not True:
        return 2 if t1 is False else None
    t2 = v_axis.get('controller.homing.method')
    t3 = None if t2 is None else f_is_makers_own(t2)
    t4 = None if t3 is None else not t3
    return None if t4 is None else 1 if t4 else 0

def r_index_alone_is_clear(v_axis, v_machine):
    t6 = d_axis__forgets_position(v_axis)
    t5 = t6
    if t5 is not False:
        t7 = d_axis__encoder_is_linear(v_axis)
        t8 = None if t7 is None else not t7
        if t5 is None:
            t5 = False if t8 is False else None
        else:
            t5 = t8
    t4 = t5
    if t4 is not False:
        t9 = d_axis__homes_by_method(v_axis)
        if t4 is None:
            t4 = False if t9 is False else None
        else:
            t4 = t9
    t3 = t4
    if t3 is not False:
        t10 = v_axis.get('controller.homing.method')
        t11 = None if t10 is None else f_uses_index(t10)
        if t3 is None:
            t3 = False if t11 is False else None
        else:
            t3 = t11
    t2 = t3
    if t2 is not False:
        t12 = v_axis.get('controller.homing.method')
        t13 = None if t12 is None else f_uses_home_switch(t12)
        t14 = None if t13 is None else not t13
        if t2 is None:
            t2 = False if t14 is False else None
        else:
            t2 = t14
    t1 = t2
    if t1 is not False:
        t15 = v_axis.get('controller.homing.method')
        t16 = None if t15 is None else f_uses_limit_switch(t15)
        t17 = None if t16 is None else not t16
        if t1 is None:
            t1 = False if t17 is False else None
        else:
            t1 = t17
    if t1 is not True:
        return 2 if t1 is False else None
    t18 = d_axis__units_per_encoder_rev(v_axis)
    t19 = None if t18 is None else t18 * 1
    l_pulse_distance = t19
    t20 = v_axis.get('controller.type')
    t21 = None if t20 is None else t20 == 'modulo'
    if t21 is None:
        t22 = None
    elif t21:
        t23 = d_axis__cycle(v_axis)
        t22 = t23
    else:
        t24 = d_axis__travel_span(v_axis)
        t22 = t24
    l_way = t22
    t25 = d_axis__one_turn_covers_all(v_axis)
    return None if t25 is None else 1 if t25 else 0

def r_homing_method_not_withdrawn(v_axis, v_machine):
    t1 = v_axis.get('controller.homing')
    t2 = None if t1 is None else t1 is NONE
    t3 = None if t2 is None else not t2
    if t3 is not True:
        return 2 if t3 is False else None
    t4 = v_axis.get('controller.homing.method')
    t5 = None if t4 is None else f_is_withdrawn(t4)
    t6 = None if t5 is None else not t5
    return None if t6 is None else 1 if t6 else 0

def r_homing_method_supported(v_axis, v_machine):
    t3 = d_axis__homes(v_axis)
    t2 = t3
    if t2 is not False:
        t4 = v_axis.get('controller.homing.method')
        t5 = None if t4 is None else f_is_reserved(t4)
        t6 = None if t5 is None else not t5
        if t2 is None:
            t2 = False if t6 is False else None
        else:
            t2 = t6
    t1 = t2
    if t1 is not False:
        t7 = v_axis.get('controller.homing.method')
        t8 = None if t7 is None else f_is_withdrawn(t7)
        t9 = None if t8 is None else not t8
        if t1 is None:
            t1 = False if t9 is False else None
        else:
            t1 = t9
    if t1 is not True:
        return 2 if t1 is False else None
    t11 = v_axis.get('drive.supported_homing_methods')
    t12 = v_axis.get('drive.supported_homing_methods#partial')
    t13 = v_axis.get('controller.homing.method')
    if t11 is None:
        t14 = None
    elif t13 is not None and t13 in t11:
        t14 = True
    else:
        t14 = None if t12 or (t13 is None and t11) else False
    t10 = t14
    if t10 is not True:
        t18 = v_axis.get('controller.homing.method')
        t19 = None if t18 is None else f_is_makers_own(t18)
        t20 = None if t19 is None else not t19
        t17 = t20
        if t17 is not False:
            t21 = v_axis.get('controller.homing.method')
            t22 = None if t21 is None else f_sets_current_position(t21)
            if t17 is None:
                t17 = False if t22 is False else None
            else:
                t17 = t22
        t16 = t17
        if t16 is not False:
            t23 = v_axis.get('controller.homing.method')
            t24 = None if t23 is None else t23 == 37
            t25 = None if t24 is None else not t24
            if t16 is None:
                t16 = False if t25 is False else None
            else:
                t16 = t25
        t15 = t16
        if t15 is not False:
            t27 = v_axis.get('drive.supported_homing_methods')
            t28 = v_axis.get('drive.supported_homing_methods#partial')
            if t27 is None:
                t29 = None
            elif 35 in t27:
                t29 = True
            else:
                t29 = None if t28 else False
            t26 = t29
            if t26 is not True:
                t30 = v_axis.get('drive.supported_homing_methods')
                t31 = v_axis.get('drive.supported_homing_methods#partial')
                if t30 is None:
                    t32 = None
                elif 37 in t30:
                    t32 = True
                else:
                    t32 = None if t31 else False
                if t26 is None:
                    t26 = True if t32 is True else None
                else:
                    t26 = t32
            if t15 is None:
                t15 = False if t26 is False else None
            else:
                t15 = t26
        if t10 is None:
            t10 = True if t15 is True else None
        else:
            t10 = t15
    return None if t10 is None else 1 if t10 else 0

def r_homing_method_has_its_switches(v_axis, v_machine):
    t2 = d_axis__homes_by_method(v_axis)
    t1 = t2
    if t1 is not False:
        t4 = v_axis.get('controller.homing.method')
        t5 = None if t4 is None else f_uses_home_switch(t4)
        t3 = t5
        if t3 is not True:
            t6 = v_axis.get('controller.homing.method')
            t7 = None if t6 is None else f_uses_limit_switch(t6)
            if t3 is None:
                t3 = True if t7 is True else None
            else:
                t3 = t7
        if t1 is None:
            t1 = False if t3 is False else None
        else:
            t1 = t3
    if t1 is not True:
        return 2 if t1 is False else None
    t10 = v_axis.get('controller.homing.switch')
    t11 = None if t10 is None else t10 is NONE
    t12 = None if t11 is None else not t11
    t9 = t12
    if t9 is not True:
        t13 = v_axis.get('controller.homing.method')
        t14 = None if t13 is None else f_uses_home_switch(t13)
        t15 = None if t14 is None else not t14
        if t9 is None:
            t9 = True if t15 is True else None
        else:
            t9 = t15
    t8 = t9
    if t8 is not False:
        t17 = v_axis.get('mechanics.limit_switches')
        t18 = None if t17 is None else t17 is NONE
        t19 = None if t18 is None else not t18
        t16 = t19
        if t16 is not True:
            t20 = v_axis.get('controller.homing.method')
            t21 = None if t20 is None else f_uses_limit_switch(t20)
            t22 = None if t21 is None else not t21
            if t16 is None:
                t16 = True if t22 is True else None
            else:
                t16 = t22
        if t8 is None:
            t8 = False if t16 is False else None
        else:
            t8 = t16
    return None if t8 is None else 1 if t8 else 0

def r_home_switch_input_in_use(v_axis, v_machine):
    t3 = d_axis__homes_by_method(v_axis)
    t2 = t3
    if t2 is not False:
        t4 = v_axis.get('controller.homing.method')
        t5 = None if t4 is None else f_uses_home_switch(t4)
        if t2 is None:
            t2 = False if t5 is False else None
        else:
            t2 = t5
    t1 = t2
    if t1 is not False:
        t6 = v_axis.get('controller.homing.switch')
        t7 = None if t6 is None else t6 is NONE
        t8 = None if t7 is None else not t7
        if t1 is None:
            t1 = False if t8 is False else None
        else:
            t1 = t8
    if t1 is not True:
        return 2 if t1 is False else None
    t9 = v_axis.get('drive.home_input')
    t10 = None if t9 is None else t9 == 'wired'
    return None if t10 is None else 1 if t10 else 0

def r_limit_switch_inputs_in_use(v_axis, v_machine):
    t1 = v_axis.get('mechanics.limit_switches')
    t2 = None if t1 is None else t1 is NONE
    t3 = None if t2 is None else not t2
    if t3 is not True:
        return 2 if t3 is False else None
    t5 = v_axis.get('drive.limit_inputs.negative')
    t6 = None if t5 is None else t5 == 'wired'
    t4 = t6
    if t4 is not False:
        t7 = v_axis.get('drive.limit_inputs.positive')
        t8 = None if t7 is None else t7 == 'wired'
        if t4 is None:
            t4 = False if t8 is False else None
        else:
            t4 = t8
    return None if t4 is None else 1 if t4 else 0

def r_limit_cam_reaches_hard_stop(v_axis, v_machine):
    t4 = d_axis__switches_in_order(v_axis)
    t3 = t4
    if t3 is not False:
        t5 = d_axis__stops_in_order(v_axis)
        if t3 is None:
            t3 = False if t5 is False else None
        else:
            t3 = t5
    t2 = t3
    if t2 is not False:
        t6 = v_axis.get('mechanics.limit_switches')
        t7 = None if t6 is None else t6 is NONE
        t8 = None if t7 is None else not t7
        if t2 is None:
            t2 = False if t8 is False else None
        else:
            t2 = t8
    t1 = t2
    if t1 is not False:
        t9 = v_axis.get('mechanics.travel')
        t10 = None if t9 is None else t9 is NONE
        t11 = None if t10 is None else not t10
        if t1 is None:
            t1 = False if t11 is False else None
        else:
            t1 = t11
    if t1 is not True:
        return 2 if t1 is False else None
    t12 = v_axis.get('mechanics.limit_switches.negative')
    t13 = v_axis.get('mechanics.travel.min')
    t14 = None if t12 is None or t13 is None else t12 - t13
    l_below = t14
    t15 = v_axis.get('mechanics.travel.max')
    t16 = v_axis.get('mechanics.limit_switches.positive')
    t17 = None if t15 is None or t16 is None else t15 - t16
    l_above = t17
    t18 = v_axis.get('mechanics.limit_switches.held_to_hard_stop')
    return None if t18 is None else 1 if t18 else 0

def r_home_switch_covers_travel_end(v_axis, v_machine):
    t4 = d_axis__homes_by_method(v_axis)
    t3 = t4
    if t3 is not False:
        t5 = v_axis.get('controller.homing.method')
        t6 = None if t5 is None else f_needs_held_switch(t5)
        if t3 is None:
            t3 = False if t6 is False else None
        else:
            t3 = t6
    t2 = t3
    if t2 is not False:
        t7 = v_axis.get('controller.homing.switch')
        t8 = None if t7 is None else t7 is NONE
        t9 = None if t8 is None else not t8
        if t2 is None:
            t2 = False if t9 is False else None
        else:
            t2 = t9
    t1 = t2
    if t1 is not False:
        t10 = v_axis.get('mechanics.travel')
        t11 = None if t10 is None else t10 is NONE
        t12 = None if t11 is None else not t11
        if t1 is None:
            t1 = False if t12 is False else None
        else:
            t1 = t12
    if t1 is not True:
        return 2 if t1 is False else None
    t13 = v_axis.get('controller.homing.method')
    t14 = None if t13 is None else f_searches_negative(t13)
    if t14 is None:
        t15 = None
    elif t14:
        t16 = v_axis.get('controller.homing.switch.position')
        t17 = v_axis.get('controller.homing.switch.width')
        t18 = None if t16 is None or t17 is None else t16 - t17
        t15 = t18
    else:
        t19 = v_axis.get('controller.homing.switch.position')
        t20 = v_axis.get('controller.homing.switch.width')
        t21 = None if t19 is None or t20 is None else t19 + t20
        t15 = t21
    l_covered_to = t15
    t22 = v_axis.get('controller.homing.method')
    t23 = None if t22 is None else f_searches_negative(t22)
    if t23 is None:
        t24 = None
    elif t23:
        t25 = v_axis.get('mechanics.travel.min')
        t24 = t25
    else:
        t26 = v_axis.get('mechanics.travel.max')
        t24 = t26
    l_end_of_travel = t24
    t28 = v_axis.get('controller.homing.switch.held_to_travel_end')
    t27 = t28
    if t27 is not False:
        t29 = v_axis.get('controller.homing.method')
        t30 = None if t29 is None else f_searches_negative(t29)
        if t30 is None:
            t31 = None
        elif t30:
            t32 = None if l_covered_to is None or l_end_of_travel is None else l_covered_to <= l_end_of_travel
            t31 = t32
        else:
            t33 = None if l_covered_to is None or l_end_of_travel is None else l_covered_to >= l_end_of_travel
            t31 = t33
        if t27 is None:
            t27 = False if t31 is False else None
        else:
            t27 = t31
    return None if t27 is None else 1 if t27 else 0

def r_index_beyond_switch_scatter(v_axis, v_machine):
    t5 = d_axis__encoder_is_linear(v_axis)
    t6 = None if t5 is None else not t5
    t4 = t6
    if t4 is not False:
        t7 = d_axis__homes_by_method(v_axis)
        if t4 is None:
            t4 = False if t7 is False else None
        else:
            t4 = t7
    t3 = t4
    if t3 is not False:
        t8 = v_axis.get('controller.homing.method')
        t9 = None if t8 is None else f_uses_index(t8)
        if t3 is None:
            t3 = False if t9 is False else None
        else:
            t3 = t9
    t2 = t3
    if t2 is not False:
        t10 = v_axis.get('controller.homing.method')
        t11 = None if t10 is None else f_uses_home_switch(t10)
        if t11 is None:
            t12 = None
        elif t11:
            t13 = v_axis.get('controller.homing.switch')
            t14 = None if t13 is None else t13 is NONE
            t15 = None if t14 is None else not t14
            t12 = t15
        else:
            t17 = v_axis.get('controller.homing.method')
            t18 = None if t17 is None else f_uses_limit_switch(t17)
            t16 = t18
            if t16 is not False:
                t19 = v_axis.get('mechanics.limit_switches')
                t20 = None if t19 is None else t19 is NONE
                t21 = None if t20 is None else not t20
                if t16 is None:
                    t16 = False if t21 is False else None
                else:
                    t16 = t21
            t12 = t16
        if t2 is None:
            t2 = False if t12 is False else None
        else:
            t2 = t12
    t1 = t2
    if t1 is not False:
        t22 = v_axis.get('encoder.index_pulse')
        if t1 is None:
            t1 = False if t22 is False else None
        else:
            t1 = t22
    if t1 is not True:
        return 2 if t1 is False else None
    t23 = d_axis__index_distance(v_axis)
    t24 = d_axis__edge_spread(v_axis)
    t25 = None if t23 is None or t24 is None else t23 > t24
    return None if t25 is None else 1 if t25 else 0

def r_index_clear_of_switch_edge(v_axis, v_machine):
    t6 = d_axis__encoder_is_linear(v_axis)
    t7 = None if t6 is None else not t6
    t5 = t7
    if t5 is not False:
        t8 = d_axis__homes_by_method(v_axis)
        if t5 is None:
            t5 = False if t8 is False else None
        else:
            t5 = t8
    t4 = t5
    if t4 is not False:
        t9 = v_axis.get('controller.homing.method')
        t10 = None if t9 is None else f_uses_index(t9)
        if t4 is None:
            t4 = False if t10 is False else None
        else:
            t4 = t10
    t3 = t4
    if t3 is not False:
        t12 = v_axis.get('controller.homing.method')
        t13 = None if t12 is None else f_uses_home_switch(t12)
        t11 = t13
        if t11 is not True:
            t14 = v_axis.get('controller.homing.method')
            t15 = None if t14 is None else f_uses_limit_switch(t14)
            if t11 is None:
                t11 = True if t15 is True else None
            else:
                t11 = t15
        if t3 is None:
            t3 = False if t11 is False else None
        else:
            t3 = t11
    t2 = t3
    if t2 is not False:
        t16 = v_axis.get('encoder.index_pulse')
        if t2 is None:
            t2 = False if t16 is False else None
        else:
            t2 = t16
    t1 = t2
    if t1 is not False:
        t18 = d_axis__index_distance(v_axis)
        t19 = d_axis__edge_spread(v_axis)
        t20 = None if t18 is None or t19 is None else t18 > t19
        t17 = t20
        if t17 is None and not ('#disputed' in v_axis and disputed(v_axis, ('controller.homing.index_after_switch', 'mechanics.final.kind', 'mechanics.final.lead', 'mechanics.final.starts', 'mechanics.final.pitch', 'mechanics.final.teeth', 'mechanics.final.helix', 'mechanics.final.module', 'mechanics.final.diameter', 'motion', 'encoder.mounted_on', 'mechanics.stages', 'mechanics.stages[].motor_turns_per_load_turn', 'mechanics.stages[].load_side_teeth', 'mechanics.stages[].motor_side_teeth', 'encoder.turns_per_driving_shaft_turn', 'controller.homing.creep_speed', 'drive.input_scan', 'controller.homing.latch_jitter', 'controller.homing.method', 'controller.homing.switch.scatter', 'mechanics.limit_switches.scatter'))):
            t17 = True
        if t1 is None:
            t1 = False if t17 is False else None
        else:
            t1 = t17
    if t1 is not True:
        return 2 if t1 is False else None
    t21 = d_axis__index_angle(v_axis)
    t22 = v_axis.get('@s:index_clearance', Fraction(1, 4))
    t23 = v_axis.get('@s:index_clearance', Fraction(1, 4))
    t24 = None if t23 is None else 1 - t23
    t25 = None if t21 is None or t22 is None or t24 is None else between(t21, t22, t24)
    return None if t25 is None else 1 if t25 else 0

def r_home_switch_long_enough_for_search(v_axis, v_machine):
    t3 = d_axis__homes_by_method(v_axis)
    t2 = t3
    if t2 is not False:
        t4 = v_axis.get('controller.homing.method')
        t5 = None if t4 is None else f_uses_home_switch(t4)
        if t2 is None:
            t2 = False if t5 is False else None
        else:
            t2 = t5
    t1 = t2
    if t1 is not False:
        t6 = v_axis.get('controller.homing.switch')
        t7 = None if t6 is None else t6 is NONE
        t8 = None if t7 is None else not t7
        if t1 is None:
            t1 = False if t8 is False else None
        else:
            t1 = t8
    if t1 is not True:
        return 2 if t1 is False else None
    t9 = v_axis.get('controller.homing.switch.width')
    t10 = v_axis.get('controller.homing.search_speed')
    t11 = d_axis__input_delay(v_axis)
    t12 = None if t10 is None or t11 is None else t10 * t11
    t13 = None if t9 is None or t12 is None else t9 > t12
    return None if t13 is None else 1 if t13 else 0

def r_home_switch_between_limit_switches(v_axis, v_machine):
    t6 = d_axis__switches_in_order(v_axis)
    t5 = t6
    if t5 is not False:
        t7 = v_axis.get('controller.type')
        t8 = None if t7 is None else t7 == 'linear'
        if t5 is None:
            t5 = False if t8 is False else None
        else:
            t5 = t8
    t4 = t5
    if t4 is not False:
        t9 = d_axis__homes_by_method(v_axis)
        if t4 is None:
            t4 = False if t9 is False else None
        else:
            t4 = t9
    t3 = t4
    if t3 is not False:
        t10 = v_axis.get('controller.homing.method')
        t11 = None if t10 is None else f_uses_home_switch(t10)
        if t3 is None:
            t3 = False if t11 is False else None
        else:
            t3 = t11
    t2 = t3
    if t2 is not False:
        t12 = v_axis.get('controller.homing.switch')
        t13 = None if t12 is None else t12 is NONE
        t14 = None if t13 is None else not t13
        if t2 is None:
            t2 = False if t14 is False else None
        else:
            t2 = t14
    t1 = t2
    if t1 is not False:
        t15 = v_axis.get('mechanics.limit_switches')
        t16 = None if t15 is None else t15 is NONE
        t17 = None if t16 is None else not t16
        if t1 is None:
            t1 = False if t17 is False else None
        else:
            t1 = t17
    if t1 is not True:
        return 2 if t1 is False else None
    t18 = v_axis.get('controller.homing.switch.position')
    l_edge = t18
    t19 = v_axis.get('mechanics.limit_switches.negative')
    t20 = None if l_edge is None or t19 is None else l_edge - t19
    t21 = v_axis.get('mechanics.limit_switches.positive')
    t22 = None if t21 is None or l_edge is None else t21 - l_edge
    t23 = None if t20 is None or t22 is None else f_smaller(t20, t22)
    l_inside = t23
    t25 = v_axis.get('mechanics.limit_switches.negative')
    t26 = None if l_edge is None or t25 is None else l_edge > t25
    t24 = t26
    if t24 is not False:
        t27 = v_axis.get('mechanics.limit_switches.positive')
        t28 = None if l_edge is None or t27 is None else l_edge < t27
        if t24 is None:
            t24 = False if t28 is False else None
        else:
            t24 = t28
    return None if t24 is None else 1 if t24 else 0

def r_search_ends_before_limit_switch(v_axis, v_machine):
    t7 = v_axis.get('controller.type')
    t8 = None if t7 is None else t7 == 'linear'
    t6 = t8
    if t6 is not False:
        t9 = d_axis__homes_by_method(v_axis)
        if t6 is None:
            t6 = False if t9 is False else None
        else:
            t6 = t9
    t5 = t6
    if t5 is not False:
        t10 = v_axis.get('controller.homing.method')
        t11 = None if t10 is None else f_needs_held_switch(t10)
        if t5 is None:
            t5 = False if t11 is False else None
        else:
            t5 = t11
    t4 = t5
    if t4 is not False:
        t12 = v_axis.get('controller.homing.switch')
        t13 = None if t12 is None else t12 is NONE
        t14 = None if t13 is None else not t13
        if t4 is None:
            t4 = False if t14 is False else None
        else:
            t4 = t14
    t3 = t4
    if t3 is not False:
        t15 = v_axis.get('mechanics.limit_switches')
        t16 = None if t15 is None else t15 is NONE
        t17 = None if t16 is None else not t16
        if t3 is None:
            t3 = False if t17 is False else None
        else:
            t3 = t17
    t2 = t3
    if t2 is not False:
        t18 = d_axis__home_switch_between_limits(v_axis)
        if t2 is None:
            t2 = False if t18 is False else None
        else:
            t2 = t18
    t1 = t2
    if t1 is not False:
        t20 = d_axis__search_overrun(v_axis)
        t21 = d_axis__search_room(v_axis)
        t22 = None if t20 is None or t21 is None else t20 <= t21
        t19 = t22
        if t19 is None and not ('#disputed' in v_axis and disputed(v_axis, ('controller.homing.search_speed', 'controller.homing.acceleration', 'drive.input_filter', 'drive.input_scan', 'controller.homing.method', 'controller.homing.switch.position', 'mechanics.limit_switches.negative', 'mechanics.limit_switches.positive', 'mechanics.travel.min', 'mechanics.travel.max'))):
            t19 = True
        if t1 is None:
            t1 = False if t19 is False else None
        else:
            t1 = t19
    if t1 is not True:
        return 2 if t1 is False else None
    t23 = v_axis.get('controller.homing.method')
    t24 = None if t23 is None else f_searches_negative(t23)
    if t24 is None:
        t25 = None
    elif t24:
        t26 = v_axis.get('controller.homing.switch.position')
        t27 = v_axis.get('mechanics.limit_switches.negative')
        t28 = None if t26 is None or t27 is None else t26 - t27
        t25 = t28
    else:
        t29 = v_axis.get('mechanics.limit_switches.positive')
        t30 = v_axis.get('controller.homing.switch.position')
        t31 = None if t29 is None or t30 is None else t29 - t30
        t25 = t31
    l_room = t25
    t32 = d_axis__search_overrun(v_axis)
    t33 = None if t32 is None or l_room is None else t32 <= l_room
    return None if t33 is None else 1 if t33 else 0

def r_search_stops_before_hard_stop(v_axis, v_machine):
    t6 = d_axis__switches_in_order(v_axis)
    t5 = t6
    if t5 is not False:
        t7 = d_axis__stops_in_order(v_axis)
        if t5 is None:
            t5 = False if t7 is False else None
        else:
            t5 = t7
    t4 = t5
    if t4 is not False:
        t8 = d_axis__homes_by_method(v_axis)
        if t4 is None:
            t4 = False if t8 is False else None
        else:
            t4 = t8
    t3 = t4
    if t3 is not False:
        t9 = v_axis.get('mechanics.travel')
        t10 = None if t9 is None else t9 is NONE
        t11 = None if t10 is None else not t10
        if t3 is None:
            t3 = False if t11 is False else None
        else:
            t3 = t11
    t2 = t3
    if t2 is not False:
        t12 = d_axis__home_switch_between_limits(v_axis)
        if t2 is None:
            t2 = False if t12 is False else None
        else:
            t2 = t12
    t1 = t2
    if t1 is not False:
        t15 = v_axis.get('controller.homing.method')
        t16 = None if t15 is None else f_uses_limit_switch(t15)
        t14 = t16
        if t14 is not False:
            t17 = v_axis.get('mechanics.limit_switches')
            t18 = None if t17 is None else t17 is NONE
            t19 = None if t18 is None else not t18
            if t14 is None:
                t14 = False if t19 is False else None
            else:
                t14 = t19
        t13 = t14
        if t13 is not True:
            t21 = v_axis.get('controller.homing.method')
            t22 = None if t21 is None else f_needs_held_switch(t21)
            t20 = t22
            if t20 is not False:
                t23 = v_axis.get('controller.homing.switch')
                t24 = None if t23 is None else t23 is NONE
                t25 = None if t24 is None else not t24
                if t20 is None:
                    t20 = False if t25 is False else None
                else:
                    t20 = t25
            if t13 is None:
                t13 = True if t20 is True else None
            else:
                t13 = t20
        if t1 is None:
            t1 = False if t13 is False else None
        else:
            t1 = t13
    if t1 is not True:
        return 2 if t1 is False else None
    t26 = d_axis__search_overrun(v_axis)
    t27 = d_axis__search_room(v_axis)
    t28 = None if t26 is None or t27 is None else t26 <= t27
    return None if t28 is None else 1 if t28 else 0

def r_creep_slower_than_search(v_axis, v_machine):
    t2 = d_axis__homes_by_method(v_axis)
    t1 = t2
    if t1 is not False:
        t4 = v_axis.get('controller.homing.method')
        t5 = None if t4 is None else f_uses_home_switch(t4)
        t3 = t5
        if t3 is not True:
            t6 = v_axis.get('controller.homing.method')
            t7 = None if t6 is None else f_uses_limit_switch(t6)
            if t3 is None:
                t3 = True if t7 is True else None
            else:
                t3 = t7
        if t1 is None:
            t1 = False if t3 is False else None
        else:
            t1 = t3
    if t1 is not True:
        return 2 if t1 is False else None
    t8 = v_axis.get('controller.homing.creep_speed')
    t9 = v_axis.get('controller.homing.search_speed')
    t10 = None if t8 is None or t9 is None else t8 < t9
    return None if t10 is None else 1 if t10 else 0

def r_homing_repeats_well_enough(v_axis, v_machine):
    t4 = d_axis__forgets_position(v_axis)
    t3 = t4
    if t3 is not False:
        t5 = d_axis__homes_by_method(v_axis)
        if t3 is None:
            t3 = False if t5 is False else None
        else:
            t3 = t5
    t2 = t3
    if t2 is not False:
        t6 = v_axis.get('controller.homing.method')
        t7 = None if t6 is None else f_uses_index(t6)
        t8 = None if t7 is None else not t7
        if t2 is None:
            t2 = False if t8 is False else None
        else:
            t2 = t8
    t1 = t2
    if t1 is not False:
        t11 = v_axis.get('controller.homing.method')
        t12 = None if t11 is None else f_uses_home_switch(t11)
        t10 = t12
        if t10 is not False:
            t13 = v_axis.get('controller.homing.switch')
            t14 = None if t13 is None else t13 is NONE
            t15 = None if t14 is None else not t14
            if t10 is None:
                t10 = False if t15 is False else None
            else:
                t10 = t15
        t9 = t10
        if t9 is not True:
            t17 = v_axis.get('controller.homing.method')
            t18 = None if t17 is None else f_uses_limit_switch(t17)
            t16 = t18
            if t16 is not False:
                t19 = v_axis.get('mechanics.limit_switches')
                t20 = None if t19 is None else t19 is NONE
                t21 = None if t20 is None else not t20
                if t16 is None:
                    t16 = False if t21 is False else None
                else:
                    t16 = t21
            if t9 is None:
                t9 = True if t16 is True else None
            else:
                t9 = t16
        if t1 is None:
            t1 = False if t9 is False else None
        else:
            t1 = t9
    if t1 is not True:
        return 2 if t1 is False else None
    t22 = v_axis.get('drive.input_scan')
    t23 = v_axis.get('controller.homing.latch_jitter')
    t24 = None if t22 is None or t23 is None else t22 + t23
    l_uncertain_for = t24
    t25 = d_axis__edge_spread(v_axis)
    t26 = v_axis.get('controller.homing.repeatability')
    t27 = None if t25 is None or t26 is None else t25 <= t26
    return None if t27 is None else 1 if t27 else 0

def r_home_method_needs_index(v_axis, v_machine):
    t2 = d_axis__homes_by_method(v_axis)
    t1 = t2
    if t1 is not False:
        t3 = v_axis.get('controller.homing.method')
        t4 = None if t3 is None else f_uses_index(t3)
        if t1 is None:
            t1 = False if t4 is False else None
        else:
            t1 = t4
    if t1 is not True:
        return 2 if t1 is False else None
    t5 = v_axis.get('encoder.index_pulse')
    return None if t5 is None else 1 if t5 else 0

def r_absolute_encoder_used_as_absolute(v_axis, v_machine):
    t2 = d_axis__position_matters(v_axis)
    t1 = t2
    if t1 is not False:
        t4 = v_axis.get('encoder.kind')
        t5 = None if t4 is None else t4 == 'absolute_multiturn'
        t3 = t5
        if t3 is not True:
            t7 = v_axis.get('encoder.kind')
            t8 = None if t7 is None else t7 == 'absolute_singleturn'
            t6 = t8
            if t6 is not False:
                t10 = d_axis__one_turn_covers_all(v_axis)
                t9 = t10
                if t9 is not True:
                    t12 = d_axis__wraps_are_retained(v_axis)
                    t11 = t12
                    if t11 is None and not ('#disputed' in v_axis and disputed(v_axis, ('controller.type', 'controller.wraps_retained', 'controller.unfolding'))):
                        t11 = False
                    if t9 is None:
                        t9 = True if t11 is True else None
                    else:
                        t9 = t11
                if t6 is None:
                    t6 = False if t9 is False else None
                else:
                    t6 = t9
            if t3 is None:
                t3 = True if t6 is True else None
            else:
                t3 = t6
        if t1 is None:
            t1 = False if t3 is False else None
        else:
            t1 = t3
    if t1 is not True:
        return 2 if t1 is False else None
    t13 = v_axis.get('drive.encoder_use')
    t14 = None if t13 is None else t13 == 'absolute'
    return None if t14 is None else 1 if t14 else 0

def r_incremental_encoder_used_as_incremental(v_axis, v_machine):
    t1 = v_axis.get('encoder.kind')
    t2 = None if t1 is None else t1 == 'incremental'
    if t2 is not True:
        return 2 if t2 is False else None
    t3 = v_axis.get('drive.encoder_use')
    t4 = None if t3 is None else t3 == 'incremental'
    return None if t4 is None else 1 if t4 else 0

def r_forgetful_axis_is_homed(v_axis, v_machine):
    t2 = d_axis__forgets_position(v_axis)
    t1 = t2
    if t1 is not False:
        t3 = d_axis__position_matters(v_axis)
        if t1 is None:
            t1 = False if t3 is False else None
        else:
            t1 = t3
    if t1 is not True:
        return 2 if t1 is False else None
    t5 = d_axis__homes(v_axis)
    t4 = t5
    if t4 is not False:
        t6 = v_axis.get('controller.homed_flag_retained')
        t7 = None if t6 is None else not t6
        if t4 is None:
            t4 = False if t7 is False else None
        else:
            t4 = t7
    return None if t4 is None else 1 if t4 else 0

def r_reference_has_been_taught(v_axis, v_machine):
    t2 = v_axis.get('controller.homing')
    t3 = None if t2 is None else t2 is NONE
    t4 = None if t3 is None else not t3
    t1 = t4
    if t1 is not False:
        t5 = d_axis__reference_moves_with_encoder(v_axis)
        if t1 is None:
            t1 = False if t5 is False else None
        else:
            t1 = t5
    if t1 is not True:
        return 2 if t1 is False else None
    t6 = v_axis.get('controller.homing.taught')
    t7 = None if t6 is None else t6 is NONE
    t8 = None if t7 is None else not t7
    return None if t8 is None else 1 if t8 else 0

def r_reference_taught_with_fitted_encoder(v_axis, v_machine):
    t3 = v_axis.get('controller.homing')
    t4 = None if t3 is None else t3 is NONE
    t5 = None if t4 is None else not t4
    t2 = t5
    if t2 is not False:
        t6 = d_axis__reference_moves_with_encoder(v_axis)
        if t2 is None:
            t2 = False if t6 is False else None
        else:
            t2 = t6
    t1 = t2
    if t1 is not False:
        t7 = v_axis.get('controller.homing.taught')
        t8 = None if t7 is None else t7 is NONE
        t9 = None if t8 is None else not t8
        if t1 is None:
            t1 = False if t9 is False else None
        else:
            t1 = t9
    if t1 is not True:
        return 2 if t1 is False else None
    t11 = v_axis.get('controller.homing.taught.encoder_serial')
    t12 = v_axis.get('encoder.serial')
    t13 = None if t11 is None or t12 is None else t11 == t12
    t10 = t13
    if t10 is not False:
        t15 = v_axis.get('encoder.serial_at_calibration')
        t14 = t15
        if t14 is None and not ('#disputed' in v_axis and disputed(v_axis, ('encoder.serial_at_calibration',))):
            t16 = v_axis.get('encoder.serial')
            t14 = t16
        t17 = v_axis.get('encoder.serial')
        t18 = None if t14 is None or t17 is None else t14 == t17
        if t10 is None:
            t10 = False if t18 is False else None
        else:
            t10 = t18
    return None if t10 is None else 1 if t10 else 0

def r_preset_with_fitted_encoder(v_axis, v_machine):
    t3 = v_axis.get('encoder.kind')
    t4 = None if t3 is None else t3 == 'incremental'
    t5 = None if t4 is None else not t4
    t2 = t5
    if t2 is not False:
        t6 = v_axis.get('controller.homing')
        t7 = None if t6 is None else t6 is NONE
        if t2 is None:
            t2 = False if t7 is False else None
        else:
            t2 = t7
    t1 = t2
    if t1 is not False:
        t8 = d_axis__position_matters(v_axis)
        if t1 is None:
            t1 = False if t8 is False else None
        else:
            t1 = t8
    if t1 is not True:
        return 2 if t1 is False else None
    t9 = v_axis.get('encoder.serial_at_calibration')
    t10 = v_axis.get('encoder.serial')
    t11 = None if t9 is None or t10 is None else t9 == t10
    return None if t11 is None else 1 if t11 else 0

def r_reference_taught_with_fitted_motor(v_axis, v_machine):
    t6 = d_axis__encoder_is_linear(v_axis)
    t7 = None if t6 is None else not t6
    t5 = t7
    if t5 is not False:
        t8 = v_axis.get('controller.homing')
        t9 = None if t8 is None else t8 is NONE
        t10 = None if t9 is None else not t9
        if t5 is None:
            t5 = False if t10 is False else None
        else:
            t5 = t10
    t4 = t5
    if t4 is not False:
        t11 = d_axis__reference_moves_with_encoder(v_axis)
        if t4 is None:
            t4 = False if t11 is False else None
        else:
            t4 = t11
    t3 = t4
    if t3 is not False:
        t12 = v_axis.get('encoder.mounted_on')
        t13 = None if t12 is None else t12 == 'motor'
        if t3 is None:
            t3 = False if t13 is False else None
        else:
            t3 = t13
    t2 = t3
    if t2 is not False:
        t14 = v_axis.get('controller.homing.taught')
        t15 = None if t14 is None else t14 is NONE
        t16 = None if t15 is None else not t15
        if t2 is None:
            t2 = False if t16 is False else None
        else:
            t2 = t16
    t1 = t2
    if t1 is not False:
        t17 = v_axis.get('controller.homing.taught.encoder_serial')
        t18 = v_axis.get('encoder.serial')
        t19 = None if t17 is None or t18 is None else t17 == t18
        if t1 is None:
            t1 = False if t19 is False else None
        else:
            t1 = t19
    if t1 is not True:
        return 2 if t1 is False else None
    t20 = v_axis.get('controller.homing.taught.motor_serial')
    t21 = v_axis.get('motor.serial')
    t22 = None if t20 is None or t21 is None else t20 == t21
    return None if t22 is None else 1 if t22 else 0

def r_reference_taught_with_fitted_drive(v_axis, v_machine):
    t5 = v_axis.get('controller.homing')
    t6 = None if t5 is None else t5 is NONE
    t7 = None if t6 is None else not t6
    t4 = t7
    if t4 is not False:
        t8 = d_axis__reference_leaves_with_drive(v_axis)
        if t4 is None:
            t4 = False if t8 is False else None
        else:
            t4 = t8
    t3 = t4
    if t3 is not False:
        t9 = v_axis.get('controller.homing.taught')
        t10 = None if t9 is None else t9 is NONE
        t11 = None if t10 is None else not t10
        if t3 is None:
            t3 = False if t11 is False else None
        else:
            t3 = t11
    t2 = t3
    if t2 is not False:
        t13 = d_axis__reference_moves_with_encoder(v_axis)
        t14 = None if t13 is None else not t13
        t12 = t14
        if t12 is not True:
            t15 = v_axis.get('controller.homing.taught.encoder_serial')
            t16 = v_axis.get('encoder.serial')
            t17 = None if t15 is None or t16 is None else t15 == t16
            if t12 is None:
                t12 = True if t17 is True else None
            else:
                t12 = t17
        if t2 is None:
            t2 = False if t12 is False else None
        else:
            t2 = t12
    t1 = t2
    if t1 is not False:
        t19 = d_axis__reference_moves_with_motor(v_axis)
        t20 = None if t19 is None else not t19
        t18 = t20
        if t18 is not True:
            t21 = v_axis.get('controller.homing.taught.motor_serial')
            t22 = v_axis.get('motor.serial')
            t23 = None if t21 is None or t22 is None else t21 == t22
            if t18 is None:
                t18 = True if t23 is True else None
            else:
                t18 = t23
        if t1 is None:
            t1 = False if t18 is False else None
        else:
            t1 = t18
    if t1 is not True:
        return 2 if t1 is False else None
    t24 = v_axis.get('controller.homing.taught.drive_serial')
    t25 = v_axis.get('drive.serial')
    t26 = None if t24 is None or t25 is None else t24 == t25
    return None if t26 is None else 1 if t26 else 0

def r_homing_search_within_top_speed(v_axis, v_machine):
    t1 = d_axis__moves_in_homing(v_axis)
    if t1 is not True:
        return 2 if t1 is False else None
    t2 = v_axis.get('controller.homing.search_speed')
    t3 = v_axis.get('controller.max_velocity')
    t4 = None if t2 is None or t3 is None else t2 <= t3
    return None if t4 is None else 1 if t4 else 0

def r_homing_acceleration_within_highest(v_axis, v_machine):
    t4 = d_axis__homes_by_method(v_axis)
    t3 = t4
    if t3 is not False:
        t6 = v_axis.get('controller.homing.method')
        t7 = None if t6 is None else f_uses_home_switch(t6)
        t5 = t7
        if t5 is not True:
            t8 = v_axis.get('controller.homing.method')
            t9 = None if t8 is None else f_uses_limit_switch(t8)
            if t5 is None:
                t5 = True if t9 is True else None
            else:
                t5 = t9
        if t3 is None:
            t3 = False if t5 is False else None
        else:
            t3 = t5
    t2 = t3
    if t2 is not False:
        t11 = v_axis.get('controller.homing.acceleration')
        t12 = d_axis__attainable_deceleration(v_axis)
        t13 = None if t11 is None or t12 is None else t11 <= t12
        t10 = t13
        if t10 is None and not ('#disputed' in v_axis and disputed(v_axis, ('controller.homing.acceleration', 'motor.peak_torque', 'drive.torque_limit', 'motion', 'mechanics.inclination', 'mechanics.vertical', 'mechanics.load_mass', 'mechanics.counterbalance', 'mechanics.final.kind', 'mechanics.final.lead', 'mechanics.final.starts', 'mechanics.final.pitch', 'mechanics.final.teeth', 'mechanics.final.helix', 'mechanics.final.module', 'mechanics.final.diameter', 'mechanics.stages', 'mechanics.stages[].motor_turns_per_load_turn', 'mechanics.stages[].load_side_teeth', 'mechanics.stages[].motor_side_teeth', 'mechanics.unbalanced_torque', 'mechanics.friction_force', 'mechanics.friction_torque', 'mechanics.efficiency', 'motor.inertia', 'mechanics.transmission_inertia', 'mechanics.load_inertia'))):
            t10 = True
        if t2 is None:
            t2 = False if t10 is False else None
        else:
            t2 = t10
    t1 = t2
    if t1 is not False:
        t15 = d_axis__ramp_time(v_axis)
        t16 = v_axis.get('@s:longest_ramp', 10)
        t17 = None if t15 is None or t16 is None else t15 <= t16
        t14 = t17
        if t14 is None and not ('#disputed' in v_axis and disputed(v_axis, ('controller.max_velocity', 'controller.max_acceleration'))):
            t14 = True
        if t1 is None:
            t1 = False if t14 is False else None
        else:
            t1 = t14
    if t1 is not True:
        return 2 if t1 is False else None
    t18 = v_axis.get('controller.homing.acceleration')
    t19 = v_axis.get('controller.max_acceleration')
    t20 = None if t18 is None or t19 is None else t18 <= t19
    return None if t20 is None else 1 if t20 else 0

def r_homing_at_reduced_speed(v_axis, v_machine):
    t1 = d_axis__moves_in_homing(v_axis)
    if t1 is not True:
        return 2 if t1 is False else None
    t2 = v_axis.get('motion')
    t3 = None if t2 is None else t2 == 'linear'
    if t3 is None:
        t4 = None
    elif t3:
        t5 = v_axis.get('controller.homing.search_speed')
        t6 = v_axis.get('@s:reduced_speed', 250)
        t7 = None if t5 is None or t6 is None else t5 <= t6
        t4 = t7
    else:
        t8 = v_axis.get('controller.homing.search_speed')
        t9 = v_axis.get('@s:reduced_speed_rotary', Fraction(1, 12))
        t10 = None if t8 is None or t9 is None else t8 <= t9
        t4 = t10
    return None if t4 is None else 1 if t4 else 0

def r_homing_acceleration_attainable(v_axis, v_machine):
    t5 = d_axis__has_driving_shaft(v_axis)
    t4 = t5
    if t4 is not False:
        t6 = d_axis__ratios_are_settled(v_axis)
        if t4 is None:
            t4 = False if t6 is False else None
        else:
            t4 = t6
    t3 = t4
    if t3 is not False:
        t7 = d_axis__homes_by_method(v_axis)
        if t3 is None:
            t3 = False if t7 is False else None
        else:
            t3 = t7
    t2 = t3
    if t2 is not False:
        t9 = v_axis.get('controller.homing.method')
        t10 = None if t9 is None else f_uses_home_switch(t9)
        t8 = t10
        if t8 is not True:
            t11 = v_axis.get('controller.homing.method')
            t12 = None if t11 is None else f_uses_limit_switch(t11)
            if t8 is None:
                t8 = True if t12 is True else None
            else:
                t8 = t12
        if t2 is None:
            t2 = False if t8 is False else None
        else:
            t2 = t8
    t1 = t2
    if t1 is not False:
        t14 = v_axis.get('mechanics.efficiency')
        t15 = None if t14 is None else t14 <= 1
        t13 = t15
        if t13 is None and not ('#disputed' in v_axis and disputed(v_axis, ('mechanics.efficiency',))):
            t13 = True
        if t1 is None:
            t1 = False if t13 is False else None
        else:
            t1 = t13
    if t1 is not True:
        return 2 if t1 is False else None
    t16 = v_axis.get('controller.homing.acceleration')
    t17 = d_axis__attainable_deceleration(v_axis)
    t18 = None if t16 is None or t17 is None else t16 <= t17
    return None if t18 is None else 1 if t18 else 0

def r_hard_stop_met_slowly(v_axis, v_machine):
    t2 = d_axis__homes_by_method(v_axis)
    t1 = t2
    if t1 is not False:
        t3 = v_axis.get('controller.homing.method')
        t4 = None if t3 is None else f_uses_hard_stop(t3)
        if t1 is None:
            t1 = False if t4 is False else None
        else:
            t1 = t4
    if t1 is not True:
        return 2 if t1 is False else None
    t5 = v_axis.get('motion')
    t6 = None if t5 is None else t5 == 'linear'
    if t6 is None:
        t7 = None
    elif t6:
        t8 = v_axis.get('controller.homing.search_speed')
        t9 = v_axis.get('@s:hard_stop_speed', 50)
        t10 = None if t8 is None or t9 is None else t8 <= t9
        t7 = t10
    else:
        t11 = v_axis.get('controller.homing.search_speed')
        t12 = v_axis.get('@s:hard_stop_speed_rotary', Fraction(1, 24))
        t13 = None if t11 is None or t12 is None else t11 <= t12
        t7 = t13
    return None if t7 is None else 1 if t7 else 0

def r_hard_stop_homing_lifts_load(v_axis, v_machine):
    t6 = d_axis__has_driving_shaft(v_axis)
    t5 = t6
    if t5 is not False:
        t7 = d_axis__homes_by_method(v_axis)
        if t5 is None:
            t5 = False if t7 is False else None
        else:
            t5 = t7
    t4 = t5
    if t4 is not False:
        t8 = v_axis.get('controller.homing.method')
        t9 = None if t8 is None else f_uses_hard_stop(t8)
        if t4 is None:
            t4 = False if t9 is False else None
        else:
            t4 = t9
    t3 = t4
    if t3 is not False:
        t10 = d_axis__hangs(v_axis)
        if t3 is None:
            t3 = False if t10 is False else None
        else:
            t3 = t10
    t2 = t3
    if t2 is not False:
        t11 = v_axis.get('controller.homing.torque_limit')
        t12 = d_axis__gravity_torque(v_axis)
        t13 = None if t11 is None or t12 is None else t11 > t12
        if t2 is None:
            t2 = False if t13 is False else None
        else:
            t2 = t13
    t1 = t2
    if t1 is not False:
        t14 = v_axis.get('mechanics.efficiency')
        t15 = None if t14 is None else t14 <= 1
        if t1 is None:
            t1 = False if t15 is False else None
        else:
            t1 = t15
    if t1 is not True:
        return 2 if t1 is False else None
    t16 = d_axis__gravity_torque(v_axis)
    t17 = d_axis__friction_at_motor(v_axis)
    t18 = None if t16 is None or t17 is None else t16 + t17
    t19 = v_axis.get('mechanics.efficiency')
    t20 = None if t18 is None or t19 is None else div(t18, t19)
    l_lifting_torque = t20
    t22 = v_axis.get('controller.homing.torque_limit')
    t23 = None if t22 is None or l_lifting_torque is None else t22 > l_lifting_torque
    t21 = t23
    if t21 is not True:
        t24 = v_axis.get('mechanics.falls_towards')
        t25 = None if t24 is None else t24 == 'negative'
        t26 = v_axis.get('controller.homing.method')
        t27 = None if t26 is None else f_searches_negative(t26)
        t28 = None if t25 is None or t27 is None else t25 == t27
        if t21 is None:
            t21 = True if t28 is True else None
        else:
            t21 = t28
    return None if t21 is None else 1 if t21 else 0

def r_homing_repeats_within_accuracy(v_axis, v_machine):
    t3 = d_axis__forgets_position(v_axis)
    t2 = t3
    if t2 is not False:
        t4 = d_axis__homes_by_method(v_axis)
        if t2 is None:
            t2 = False if t4 is False else None
        else:
            t2 = t4
    t1 = t2
    if t1 is not False:
        t6 = v_axis.get('controller.homing.repeatability')
        t7 = v_axis.get('controller.homing.repeatability')
        t8 = None if t6 is None or t7 is None else eq(t6, t7)
        t5 = t8
        if t5 is None and not ('#disputed' in v_axis and disputed(v_axis, ('controller.homing.repeatability',))):
            t5 = False
        if t1 is None:
            t1 = False if t5 is False else None
        else:
            t1 = t5
    if t1 is not True:
        return 2 if t1 is False else None
    t9 = v_axis.get('controller.homing.repeatability')
    t10 = v_axis.get('mechanics.required_accuracy')
    t11 = None if t9 is None or t10 is None else t9 <= t10
    return None if t11 is None else 1 if t11 else 0

def r_rehome_interlock_clears_homed_flag(v_axis, v_machine):
    t1 = v_axis.get('interlocks')
    t2 = v_axis.get('interlocks#partial')
    if t1 is None:
        t3 = None
    else:
        t3 = None if t2 else False
        for v_lock in t1:
            t4 = d_axis_interlocks__doubts_position(v_lock)
            if t4 is True:
                t3 = True
                break
            if t4 is None:
                t3 = None
    if t3 is not True:
        return 2 if t3 is False else None
    t5 = v_axis.get('interlocks')
    t6 = v_axis.get('interlocks#partial')
    if t5 is None:
        t7 = None
    else:
        t7 = None if t6 else True
        for v_lock in t5:
            t8 = d_axis_interlocks__doubts_position(v_lock)
            if t8 is False:
                continue
            t9 = v_lock.get('clears_homed_flag')
            if t9 is False and t8:
                t7 = False
                break
            if t9 is not True:
                t7 = None
    return None if t7 is None else 1 if t7 else 0

def r_rehome_interlock_caps_speed(v_axis, v_machine):
    t1 = v_axis.get('interlocks')
    t2 = v_axis.get('interlocks#partial')
    if t1 is None:
        t3 = None
    else:
        t3 = None if t2 else False
        for v_lock in t1:
            t4 = d_axis_interlocks__doubts_position(v_lock)
            if t4 is True:
                t3 = True
                break
            if t4 is None:
                t3 = None
    if t3 is not True:
        return 2 if t3 is False else None
    t5 = v_axis.get('interlocks')
    t6 = v_axis.get('interlocks#partial')
    if t5 is None:
        t7 = None
    else:
        t7 = None if t6 else True
        for v_lock in t5:
            t8 = d_axis_interlocks__doubts_position(v_lock)
            if t8 is False:
                continue
            t10 = v_lock.get('max_speed')
            t11 = None if t10 is None else t10 is NONE
            t9 = t11
            if t9 is not True:
                t12 = v_lock.get('max_speed')
                if t12 is NONE:
                    t12 = None
                t13 = d_axis__speed_in_doubt(v_axis)
                t14 = None if t12 is None or t13 is None else t12 <= t13
                if t9 is None:
                    t9 = True if t14 is True else None
                else:
                    t9 = t14
            if t9 is False and t8:
                t7 = False
                break
            if t9 is not True:
                t7 = None
    return None if t7 is None else 1 if t7 else 0

def r_known_position_has_software_limits(v_axis, v_machine):
    t4 = v_axis.get('controller.type')
    t5 = None if t4 is None else t4 == 'linear'
    t3 = t5
    if t3 is not False:
        t6 = v_axis.get('mechanics.travel')
        t7 = None if t6 is None else t6 is NONE
        t8 = None if t7 is None else not t7
        if t3 is None:
            t3 = False if t8 is False else None
        else:
            t3 = t8
    t2 = t3
    if t2 is not False:
        t9 = v_axis.get('mechanics.limit_switches')
        t10 = None if t9 is None else t9 is NONE
        t11 = None if t10 is None else not t10
        if t2 is None:
            t2 = False if t11 is False else None
        else:
            t2 = t11
    t1 = t2
    if t1 is not False:
        t13 = d_axis__homes(v_axis)
        t12 = t13
        if t12 is not True:
            t14 = d_axis__forgets_position(v_axis)
            t15 = None if t14 is None else not t14
            if t12 is None:
                t12 = True if t15 is True else None
            else:
                t12 = t15
        if t1 is None:
            t1 = False if t12 is False else None
        else:
            t1 = t12
    if t1 is not True:
        return 2 if t1 is False else None
    t16 = v_axis.get('controller.software_limits')
    t17 = None if t16 is None else t16 is NONE
    t18 = None if t17 is None else not t17
    return None if t18 is None else 1 if t18 else 0

def r_software_limits_await_homing(v_axis, v_machine):
    t3 = d_axis__forgets_position(v_axis)
    t2 = t3
    if t2 is not False:
        t4 = v_axis.get('controller.type')
        t5 = None if t4 is None else t4 == 'linear'
        if t2 is None:
            t2 = False if t5 is False else None
        else:
            t2 = t5
    t1 = t2
    if t1 is not False:
        t6 = v_axis.get('controller.software_limits')
        t7 = None if t6 is None else t6 is NONE
        t8 = None if t7 is None else not t7
        if t1 is None:
            t1 = False if t8 is False else None
        else:
            t1 = t8
    if t1 is not True:
        return 2 if t1 is False else None
    t9 = v_axis.get('controller.software_limits.active')
    t10 = None if t9 is None else t9 == 'after_homing'
    return None if t10 is None else 1 if t10 else 0

def r_rehome_interlock_on_lost_position(v_axis, v_machine):
    t1 = d_axis__position_matters(v_axis)
    if t1 is not True:
        return 2 if t1 is False else None
    t2 = v_axis.get('interlocks')
    t3 = v_axis.get('interlocks#partial')
    if t2 is None:
        t4 = None
    else:
        t4 = None if t3 else False
        for v_lock in t2:
            t5 = v_lock.get('triggers')
            t6 = v_lock.get('triggers#partial')
            if t5 is None:
                t7 = None
            elif 'position_lost' in charged(t5, 0.1):
                t7 = True
            else:
                t7 = None if t6 else False
            if t7 is True:
                t4 = True
                break
            if t7 is None:
                t4 = None
    return None if t4 is None else 1 if t4 else 0

def r_rehome_interlock_on_doubtful_turns(v_axis, v_machine):
    t2 = d_axis__relies_on_turn_counter(v_axis)
    t1 = t2
    if t1 is not False:
        t3 = v_axis.get('interlocks')
        t4 = v_axis.get('interlocks#partial')
        if t3 is None:
            t5 = None
        else:
            t5 = None if t4 else False
            for v_lock in t3:
                t6 = v_lock.get('triggers')
                t7 = v_lock.get('triggers#partial')
                if t6 is None:
                    t8 = None
                elif 'position_lost' in charged(t6, 0.1):
                    t8 = True
                else:
                    t8 = None if t7 else False
                if t8 is True:
                    t5 = True
                    break
                if t8 is None:
                    t5 = None
        if t1 is None:
            t1 = False if t5 is False else None
        else:
            t1 = t5
    if t1 is not True:
        return 2 if t1 is False else None
    t9 = v_axis.get('interlocks')
    t10 = v_axis.get('interlocks#partial')
    if t9 is None:
        t11 = None
    else:
        t11 = None if t10 else False
        for v_lock in t9:
            t12 = v_lock.get('triggers')
            t13 = v_lock.get('triggers#partial')
            if t12 is None:
                t14 = None
            elif 'turn_count_disagreement' in charged(t12, 0.1):
                t14 = True
            else:
                t14 = None if t13 else False
            if t14 is True:
                t11 = True
                break
            if t14 is None:
                t11 = None
    l_on_disagreement = t11
    t15 = v_axis.get('interlocks')
    t16 = v_axis.get('interlocks#partial')
    if t15 is None:
        t17 = None
    else:
        t17 = None if t16 else False
        for v_lock in t15:
            t18 = v_lock.get('triggers')
            t19 = v_lock.get('triggers#partial')
            if t18 is None:
                t20 = None
            elif 'battery_dead_at_power_up' in charged(t18, 0.1):
                t20 = True
            else:
                t20 = None if t19 else False
            if t20 is True:
                t17 = True
                break
            if t20 is None:
                t17 = None
    l_on_dead_battery = t17
    t21 = l_on_disagreement
    if t21 is not False:
        t23 = v_axis.get('encoder.turn_counter.backup')
        t24 = None if t23 is None else t23 == 'batteryless'
        t22 = t24
        if t22 is not True:
            if t22 is None:
                t22 = True if l_on_dead_battery is True else None
            else:
                t22 = l_on_dead_battery
        if t21 is None:
            t21 = False if t22 is False else None
        else:
            t21 = t22
    return None if t21 is None else 1 if t21 else 0

def r_rehome_interlock_on_replaced_parts(v_axis, v_machine):
    t1 = v_axis.get('interlocks')
    t2 = v_axis.get('interlocks#partial')
    if t1 is None:
        t3 = None
    else:
        t3 = None if t2 else False
        for v_lock in t1:
            t4 = v_lock.get('triggers')
            t5 = v_lock.get('triggers#partial')
            if t4 is None:
                t6 = None
            elif 'position_lost' in charged(t4, 0.1):
                t6 = True
            else:
                t6 = None if t5 else False
            if t6 is True:
                t3 = True
                break
            if t6 is None:
                t3 = None
    if t3 is not True:
        return 2 if t3 is False else None
    t7 = v_axis.get('interlocks')
    t8 = v_axis.get('interlocks#partial')
    if t7 is None:
        t9 = None
    else:
        t9 = None if t8 else False
        for v_lock in t7:
            t10 = v_lock.get('triggers')
            t11 = v_lock.get('triggers#partial')
            if t10 is None:
                t12 = None
            elif 'encoder_replaced' in charged(t10, 0.1):
                t12 = True
            else:
                t12 = None if t11 else False
            if t12 is True:
                t9 = True
                break
            if t12 is None:
                t9 = None
    l_on_encoder = t9
    t13 = v_axis.get('interlocks')
    t14 = v_axis.get('interlocks#partial')
    if t13 is None:
        t15 = None
    else:
        t15 = None if t14 else False
        for v_lock in t13:
            t16 = v_lock.get('triggers')
            t17 = v_lock.get('triggers#partial')
            if t16 is None:
                t18 = None
            elif 'motor_replaced' in charged(t16, 0.1):
                t18 = True
            else:
                t18 = None if t17 else False
            if t18 is True:
                t15 = True
                break
            if t18 is None:
                t15 = None
    l_on_motor = t15
    t19 = v_axis.get('interlocks')
    t20 = v_axis.get('interlocks#partial')
    if t19 is None:
        t21 = None
    else:
        t21 = None if t20 else False
        for v_lock in t19:
            t22 = v_lock.get('triggers')
            t23 = v_lock.get('triggers#partial')
            if t22 is None:
                t24 = None
            elif 'drive_replaced' in charged(t22, 0.1):
                t24 = True
            else:
                t24 = None if t23 else False
            if t24 is True:
                t21 = True
                break
            if t24 is None:
                t21 = None
    l_on_drive = t21
    t26 = d_axis__reference_moves_with_encoder(v_axis)
    t25 = t26
    if t25 is not False:
        t27 = d_axis__encoder_tells_its_serial(v_axis)
        if t25 is None:
            t25 = False if t27 is False else None
        else:
            t25 = t27
    l_encoder_due = t25
    t29 = d_axis__reference_moves_with_motor(v_axis)
    t28 = t29
    if t28 is not False:
        t30 = d_axis__encoder_tells_its_serial(v_axis)
        if t28 is None:
            t28 = False if t30 is False else None
        else:
            t28 = t30
    l_motor_due = t28
    t32 = l_encoder_due
    if t32 is not False:
        t33 = None if l_on_encoder is None else not l_on_encoder
        if t32 is None:
            t32 = False if t33 is False else None
        else:
            t32 = t33
    t31 = t32
    if t31 is None:
        t31 = False
    if t31 is None:
        t34 = None
    elif t31:
        t34 = 'the encoder, whose own angle makes it; '
    else:
        t34 = ''
    l_unwatched_encoder = t34
    t36 = l_motor_due
    if t36 is not False:
        t37 = None if l_on_motor is None else not l_on_motor
        if t36 is None:
            t36 = False if t37 is False else None
        else:
            t36 = t37
    t35 = t36
    if t35 is None:
        t35 = False
    if t35 is None:
        t38 = None
    elif t35:
        t38 = 'the motor, which carries the encoder; '
    else:
        t38 = ''
    l_unwatched_motor = t38
    t41 = d_axis__reference_leaves_with_drive(v_axis)
    t40 = t41
    if t40 is not False:
        t42 = None if l_on_drive is None else not l_on_drive
        if t40 is None:
            t40 = False if t42 is False else None
        else:
            t40 = t42
    t39 = t40
    if t39 is None and not ('#disputed' in v_axis and disputed(v_axis, ('storage.offset', 'controller.position_matters', 'encoder.kind', 'drive.encoder_use', 'encoder.form', 'storage.turns'))):
        t39 = False
    if t39 is None:
        t43 = None
    elif t39:
        t43 = 'the drive, which holds its offset or turns; '
    else:
        t43 = ''
    l_unwatched_drive = t43
    t46 = l_on_encoder
    if t46 is not True:
        t47 = None if l_encoder_due is None else not l_encoder_due
        if t46 is None:
            t46 = True if t47 is True else None
        else:
            t46 = t47
    t45 = t46
    if t45 is not False:
        t48 = l_on_motor
        if t48 is not True:
            t49 = None if l_motor_due is None else not l_motor_due
            if t48 is None:
                t48 = True if t49 is True else None
            else:
                t48 = t49
        if t45 is None:
            t45 = False if t48 is False else None
        else:
            t45 = t48
    t44 = t45
    if t44 is not False:
        t50 = l_on_drive
        if t50 is not True:
            t51 = d_axis__reference_leaves_with_drive(v_axis)
            t52 = None if t51 is None else not t51
            if t50 is None:
                t50 = True if t52 is True else None
            else:
                t50 = t52
        if t44 is None:
            t44 = False if t50 is False else None
        else:
            t44 = t50
    return None if t44 is None else 1 if t44 else 0

def r_rehome_interlock_inhibits_motion(v_axis, v_machine):
    t1 = v_axis.get('interlocks')
    t2 = v_axis.get('interlocks#partial')
    if t1 is None:
        t3 = None
    else:
        t3 = None if t2 else False
        for v_lock in t1:
            t4 = d_axis_interlocks__doubts_position(v_lock)
            if t4 is True:
                t3 = True
                break
            if t4 is None:
                t3 = None
    if t3 is not True:
        return 2 if t3 is False else None
    t5 = v_axis.get('interlocks')
    t6 = v_axis.get('interlocks#partial')
    if t5 is None:
        t7 = None
    else:
        t7 = None if t6 else True
        for v_lock in t5:
            t8 = d_axis_interlocks__doubts_position(v_lock)
            if t8 is False:
                continue
            t10 = v_lock.get('inhibits')
            t11 = v_lock.get('inhibits#partial')
            if t10 is None:
                t12 = None
            elif 'automatic_motion' in charged(t10, 0.1):
                t12 = True
            else:
                t12 = None if t11 else False
            t9 = t12
            if t9 is not True:
                t13 = v_lock.get('inhibits')
                t14 = v_lock.get('inhibits#partial')
                if t13 is None:
                    t15 = None
                elif 'all_motion' in charged(t13, 0.1):
                    t15 = True
                else:
                    t15 = None if t14 else False
                if t9 is None:
                    t9 = True if t15 is True else None
                else:
                    t9 = t15
            if t9 is False and t8:
                t7 = False
                break
            if t9 is not True:
                t7 = None
    return None if t7 is None else 1 if t7 else 0

def r_rehome_interlock_released_by_homing(v_axis, v_machine):
    t1 = v_axis.get('interlocks')
    t2 = v_axis.get('interlocks#partial')
    if t1 is None:
        t3 = None
    else:
        t3 = None if t2 else False
        for v_lock in t1:
            t4 = d_axis_interlocks__doubts_position(v_lock)
            if t4 is True:
                t3 = True
                break
            if t4 is None:
                t3 = None
    if t3 is not True:
        return 2 if t3 is False else None
    t5 = v_axis.get('interlocks')
    t6 = v_axis.get('interlocks#partial')
    if t5 is None:
        t7 = None
    else:
        t7 = None if t6 else True
        for v_lock in t5:
            t8 = d_axis_interlocks__doubts_position(v_lock)
            if t8 is False:
                continue
            t10 = v_lock.get('latched')
            t9 = t10
            if t9 is not True:
                t12 = v_lock.get('triggers')
                t13 = v_lock.get('triggers#partial')
                if t12 is None:
                    t14 = None
                elif 'position_lost' in charged(t12, 0.1):
                    t14 = True
                else:
                    t14 = None if t13 else False
                t11 = t14
                if t11 is not False:
                    t15 = d_axis__homed_anew_at_power_on(v_axis)
                    if t11 is None:
                        t11 = False if t15 is False else None
                    else:
                        t11 = t15
                if t9 is None:
                    t9 = True if t11 is True else None
                else:
                    t9 = t11
            if t9 is False and t8:
                t7 = False
                break
            if t9 is not True:
                t7 = None
    l_lasting = t7
    t16 = v_axis.get('interlocks')
    t17 = v_axis.get('interlocks#partial')
    if t16 is None:
        t18 = None
    else:
        t18 = None if t17 else True
        for v_lock in t16:
            t19 = d_axis_interlocks__doubts_position(v_lock)
            if t19 is False:
                continue
            t20 = d_axis_interlocks__skips_homing(v_lock)
            t21 = None if t20 is None else not t20
            if t21 is False and t19:
                t18 = False
                break
            if t21 is not True:
                t18 = None
    l_strict = t18
    t22 = v_axis.get('interlocks')
    t23 = v_axis.get('interlocks#partial')
    if t22 is None:
        t24 = None
    else:
        t24 = None if t23 else True
        for v_lock in t22:
            t25 = d_axis_interlocks__doubts_position(v_lock)
            if t25 is False:
                continue
            t26 = d_axis_interlocks__heeds_homing(v_lock)
            if t26 is False and t25:
                t24 = False
                break
            if t26 is not True:
                t24 = None
    l_heeding = t24
    t27 = l_lasting
    if t27 is None:
        t27 = True
    if t27 is None:
        t28 = None
    elif t27:
        t28 = ''
    else:
        t28 = ' Power-off ends it.'
    l_if_not_lasting = t28
    t29 = l_strict
    if t29 is None:
        t29 = True
    if t29 is None:
        t30 = None
    elif t29:
        t30 = ''
    else:
        t30 = ' An alarm reset, an acknowledgement or a power cycle releases it.'
    l_if_not_strict = t30
    t31 = l_heeding
    if t31 is None:
        t31 = True
    if t31 is None:
        t32 = None
    elif t31:
        t32 = ''
    else:
        t32 = ' Homing and calibration do not release it.'
    l_if_not_heeding = t32
    t34 = l_lasting
    if t34 is not False:
        if t34 is None:
            t34 = False if l_strict is False else None
        else:
            t34 = l_strict
    t33 = t34
    if t33 is not False:
        if t33 is None:
            t33 = False if l_heeding is False else None
        else:
            t33 = l_heeding
    return None if t33 is None else 1 if t33 else 0

def r_rehome_interlock_inhibits_gantry_partner(v_axis, v_machine):
    t2 = v_axis.get('gantry')
    t3 = None if t2 is None else t2 is NONE
    t4 = None if t3 is None else not t3
    t1 = t4
    if t1 is not False:
        t5 = v_axis.get('interlocks')
        t6 = v_axis.get('interlocks#partial')
        if t5 is None:
            t7 = None
        else:
            t7 = None if t6 else False
            for v_lock in t5:
                t8 = d_axis_interlocks__doubts_position(v_lock)
                if t8 is True:
                    t7 = True
                    break
                if t8 is None:
                    t7 = None
        if t1 is None:
            t1 = False if t7 is False else None
        else:
            t1 = t7
    if t1 is not True:
        return 2 if t1 is False else None
    t9 = v_axis.get('interlocks')
    t10 = v_axis.get('interlocks#partial')
    if t9 is None:
        t11 = None
    else:
        t11 = None if t10 else True
        for v_lock in t9:
            t12 = d_axis_interlocks__doubts_position(v_lock)
            if t12 is False:
                continue
            t13 = v_lock.get('inhibits_partners')
            if t13 is False and t12:
                t11 = False
                break
            if t13 is not True:
                t11 = None
    return None if t11 is None else 1 if t11 else 0

def r_limit_switches_in_order(v_axis, v_machine):
    t2 = v_axis.get('controller.type')
    t3 = None if t2 is None else t2 == 'linear'
    t1 = t3
    if t1 is not False:
        t4 = v_axis.get('mechanics.limit_switches')
        t5 = None if t4 is None else t4 is NONE
        t6 = None if t5 is None else not t5
        if t1 is None:
            t1 = False if t6 is False else None
        else:
            t1 = t6
    if t1 is not True:
        return 2 if t1 is False else None
    t7 = v_axis.get('mechanics.limit_switches.negative')
    t8 = v_axis.get('mechanics.limit_switches.positive')
    t9 = None if t7 is None or t8 is None else t7 < t8
    return None if t9 is None else 1 if t9 else 0

def r_software_limits_leave_room_to_stop(v_axis, v_machine):
    t6 = d_axis__switches_in_order(v_axis)
    t5 = t6
    if t5 is not False:
        t7 = d_axis__stops_in_order(v_axis)
        if t5 is None:
            t5 = False if t7 is False else None
        else:
            t5 = t7
    t4 = t5
    if t4 is not False:
        t8 = v_axis.get('controller.type')
        t9 = None if t8 is None else t8 == 'linear'
        if t4 is None:
            t4 = False if t9 is False else None
        else:
            t4 = t9
    t3 = t4
    if t3 is not False:
        t11 = v_axis.get('mechanics.travel')
        t12 = None if t11 is None else t11 is NONE
        t13 = None if t12 is None else not t12
        t10 = t13
        if t10 is not True:
            t14 = v_axis.get('mechanics.limit_switches')
            t15 = None if t14 is None else t14 is NONE
            t16 = None if t15 is None else not t15
            if t10 is None:
                t10 = True if t16 is True else None
            else:
                t10 = t16
        if t3 is None:
            t3 = False if t10 is False else None
        else:
            t3 = t10
    t2 = t3
    if t2 is not False:
        t17 = v_axis.get('controller.software_limits')
        t18 = None if t17 is None else t17 is NONE
        t19 = None if t18 is None else not t18
        if t2 is None:
            t2 = False if t19 is False else None
        else:
            t2 = t19
    t1 = t2
    if t1 is not False:
        t20 = d_axis__speed_in_wrong_unit(v_axis)
        t21 = None if t20 is None else not t20
        if t1 is None:
            t1 = False if t21 is False else None
        else:
            t1 = t21
    if t1 is not True:
        return 2 if t1 is False else None
    t22 = v_axis.get('controller.software_limits.min')
    t23 = d_axis__lowest_safe(v_axis)
    t24 = d_axis__controller_stopping_distance(v_axis)
    t25 = None if t23 is None or t24 is None else t23 + t24
    t26 = None if t22 is None or t25 is None else f_larger(t22, t25)
    l_lower = t26
    t27 = v_axis.get('controller.software_limits.max')
    t28 = d_axis__highest_safe(v_axis)
    t29 = d_axis__controller_stopping_distance(v_axis)
    t30 = None if t28 is None or t29 is None else t28 - t29
    t31 = None if t27 is None or t30 is None else f_smaller(t27, t30)
    l_upper = t31
    t33 = v_axis.get('controller.software_limits.min')
    t34 = d_axis__controller_stopping_distance(v_axis)
    t35 = None if t33 is None or t34 is None else t33 - t34
    t36 = d_axis__lowest_safe(v_axis)
    t37 = None if t35 is None or t36 is None else t35 >= t36
    t32 = t37
    if t32 is not False:
        t38 = v_axis.get('controller.software_limits.max')
        t39 = d_axis__controller_stopping_distance(v_axis)
        t40 = None if t38 is None or t39 is None else t38 + t39
        t41 = d_axis__highest_safe(v_axis)
        t42 = None if t40 is None or t41 is None else t40 <= t41
        if t32 is None:
            t32 = False if t42 is False else None
        else:
            t32 = t42
    return None if t32 is None else 1 if t32 else 0

def r_limit_switch_stops_before_hard_stop(v_axis, v_machine):
    t7 = d_axis__switches_in_order(v_axis)
    t6 = t7
    if t6 is not False:
        t8 = d_axis__stops_in_order(v_axis)
        if t6 is None:
            t6 = False if t8 is False else None
        else:
            t6 = t8
    t5 = t6
    if t5 is not False:
        t9 = v_axis.get('controller.type')
        t10 = None if t9 is None else t9 == 'linear'
        if t5 is None:
            t5 = False if t10 is False else None
        else:
            t5 = t10
    t4 = t5
    if t4 is not False:
        t11 = v_axis.get('mechanics.limit_switches')
        t12 = None if t11 is None else t11 is NONE
        t13 = None if t12 is None else not t12
        if t4 is None:
            t4 = False if t13 is False else None
        else:
            t4 = t13
    t3 = t4
    if t3 is not False:
        t14 = v_axis.get('mechanics.travel')
        t15 = None if t14 is None else t14 is NONE
        t16 = None if t15 is None else not t15
        if t3 is None:
            t3 = False if t16 is False else None
        else:
            t3 = t16
    t2 = t3
    if t2 is not False:
        t17 = d_axis__power_cut_at_stop(v_axis)
        t18 = None if t17 is None else not t17
        if t2 is None:
            t2 = False if t18 is False else None
        else:
            t2 = t18
    t1 = t2
    if t1 is not False:
        t19 = d_axis__speed_in_wrong_unit(v_axis)
        t20 = None if t19 is None else not t19
        if t1 is None:
            t1 = False if t20 is False else None
        else:
            t1 = t20
    if t1 is not True:
        return 2 if t1 is False else None
    t21 = v_axis.get('mechanics.limit_switches.negative')
    t22 = v_axis.get('mechanics.travel.min')
    t23 = d_axis__drive_stopping_distance(v_axis)
    t24 = None if t22 is None or t23 is None else t22 + t23
    t25 = None if t21 is None or t24 is None else f_larger(t21, t24)
    l_lower = t25
    t26 = v_axis.get('mechanics.limit_switches.positive')
    t27 = v_axis.get('mechanics.travel.max')
    t28 = d_axis__drive_stopping_distance(v_axis)
    t29 = None if t27 is None or t28 is None else t27 - t28
    t30 = None if t26 is None or t29 is None else f_smaller(t26, t29)
    l_upper = t30
    t32 = d_axis__controller_stopping_distance(v_axis)
    t31 = t32
    if t31 is None and not ('#disputed' in v_axis and disputed(v_axis, ('controller.software_limits.planned', 'controller.overshoot', 'controller.stop.jerk', 'controller.max_velocity', 'controller.stop.deceleration', 'controller.stop.delay'))):
        t33 = d_axis__drive_stopping_distance(v_axis)
        t31 = t33
    l_before = t31
    t35 = v_axis.get('mechanics.limit_switches.negative')
    t36 = d_axis__drive_stopping_distance(v_axis)
    t37 = None if t35 is None or t36 is None else t35 - t36
    t38 = v_axis.get('mechanics.travel.min')
    t39 = None if t37 is None or t38 is None else t37 >= t38
    t34 = t39
    if t34 is not False:
        t40 = v_axis.get('mechanics.limit_switches.positive')
        t41 = d_axis__drive_stopping_distance(v_axis)
        t42 = None if t40 is None or t41 is None else t40 + t41
        t43 = v_axis.get('mechanics.travel.max')
        t44 = None if t42 is None or t43 is None else t42 <= t43
        if t34 is None:
            t34 = False if t44 is False else None
        else:
            t34 = t44
    return None if t34 is None else 1 if t34 else 0

def r_hard_stop_is_not_the_only_limit(v_axis, v_machine):
    t2 = v_axis.get('controller.type')
    t3 = None if t2 is None else t2 == 'linear'
    t1 = t3
    if t1 is not False:
        t4 = v_axis.get('mechanics.travel')
        t5 = None if t4 is None else t4 is NONE
        t6 = None if t5 is None else not t5
        if t1 is None:
            t1 = False if t6 is False else None
        else:
            t1 = t6
    if t1 is not True:
        return 2 if t1 is False else None
    t8 = v_axis.get('mechanics.limit_switches')
    t9 = None if t8 is None else t8 is NONE
    t10 = None if t9 is None else not t9
    t7 = t10
    if t7 is not True:
        t11 = v_axis.get('controller.software_limits')
        t12 = None if t11 is None else t11 is NONE
        t13 = None if t12 is None else not t12
        if t7 is None:
            t7 = True if t13 is True else None
        else:
            t7 = t13
    return None if t7 is None else 1 if t7 else 0

def r_top_speed_in_its_unit(v_axis, v_machine):
    t2 = d_axis__has_driving_shaft(v_axis)
    t1 = t2
    if t1 is not False:
        t3 = d_axis__ratios_are_settled(v_axis)
        if t1 is None:
            t1 = False if t3 is False else None
        else:
            t1 = t3
    if t1 is not True:
        return 2 if t1 is False else None
    t4 = d_axis__overspeed(v_axis)
    t5 = v_axis.get('@s:gross_overspeed', Fraction(5, 2))
    t6 = None if t4 is None or t5 is None else t4 <= t5
    return None if t6 is None else 1 if t6 else 0

def r_top_speed_within_motor_and_drive(v_axis, v_machine):
    t3 = d_axis__has_driving_shaft(v_axis)
    t2 = t3
    if t2 is not False:
        t4 = d_axis__ratios_are_settled(v_axis)
        if t2 is None:
            t2 = False if t4 is False else None
        else:
            t2 = t4
    t1 = t2
    if t1 is not False:
        t5 = d_axis__speed_in_wrong_unit(v_axis)
        t6 = None if t5 is None else not t5
        if t1 is None:
            t1 = False if t6 is False else None
        else:
            t1 = t6
    if t1 is not True:
        return 2 if t1 is False else None
    t8 = d_axis__top_motor_speed(v_axis)
    t9 = v_axis.get('motor.max_speed')
    t10 = None if t8 is None or t9 is None else t8 <= t9
    t7 = t10
    if t7 is not False:
        t11 = d_axis__top_motor_speed(v_axis)
        t12 = v_axis.get('drive.max_speed')
        t13 = None if t11 is None or t12 is None else t11 <= t12
        if t7 is None:
            t7 = False if t13 is False else None
        else:
            t7 = t13
    return None if t7 is None else 1 if t7 else 0

def r_drive_speed_limit_within_motor(v_axis, v_machine):
    t2 = d_axis__has_driving_shaft(v_axis)
    t1 = t2
    if t1 is not False:
        t4 = d_axis__top_motor_speed(v_axis)
        t5 = v_axis.get('motor.max_speed')
        t6 = None if t4 is None or t5 is None else t4 <= t5
        t3 = t6
        if t3 is None and not ('#disputed' in v_axis and disputed(v_axis, ('controller.max_velocity', 'mechanics.final.kind', 'mechanics.final.lead', 'mechanics.final.starts', 'mechanics.final.pitch', 'mechanics.final.teeth', 'mechanics.final.helix', 'mechanics.final.module', 'mechanics.final.diameter', 'motion', 'mechanics.stages', 'mechanics.stages[].motor_turns_per_load_turn', 'mechanics.stages[].load_side_teeth', 'mechanics.stages[].motor_side_teeth', 'motor.max_speed'))):
            t3 = True
        if t1 is None:
            t1 = False if t3 is False else None
        else:
            t1 = t3
    if t1 is not True:
        return 2 if t1 is False else None
    t7 = v_axis.get('drive.max_speed')
    t8 = v_axis.get('motor.max_speed')
    t9 = None if t7 is None or t8 is None else t7 <= t8
    return None if t9 is None else 1 if t9 else 0

def r_top_speed_within_encoder(v_axis, v_machine):
    t2 = v_axis.get('encoder.form')
    t3 = None if t2 is None else t2 == 'linear'
    t4 = None if t3 is None else not t3
    t1 = t4
    if t1 is None and not ('#disputed' in v_axis and disputed(v_axis, ('encoder.form',))):
        t1 = True
    if t1 is not True:
        return 2 if t1 is False else None
    t5 = d_axis__top_encoder_speed(v_axis)
    t6 = v_axis.get('encoder.max_speed')
    t7 = None if t5 is None or t6 is None else t5 <= t6
    return None if t7 is None else 1 if t7 else 0

def r_count_rate_within_inputs(v_axis, v_machine):
    t1 = v_axis.get('encoder.kind')
    t2 = None if t1 is None else t1 == 'incremental'
    if t2 is not True:
        return 2 if t2 is False else None
    t4 = d_axis__top_count_rate(v_axis)
    t5 = v_axis.get('encoder.max_frequency')
    t6 = None if t4 is None or t5 is None else t4 <= t5
    t3 = t6
    if t3 is not False:
        t7 = d_axis__top_count_rate(v_axis)
        t8 = v_axis.get('drive.feedback_frequency_limit')
        t9 = None if t7 is None or t8 is None else t7 <= t8
        if t3 is None:
            t3 = False if t9 is False else None
        else:
            t3 = t9
    return None if t3 is None else 1 if t3 else 0

def r_vertical_axis_has_brake(v_axis, v_machine):
    t1 = v_axis.get('mechanics.vertical')
    if t1 is not True:
        return 2 if t1 is False else None
    t3 = v_axis.get('motor.brake')
    t4 = None if t3 is None else t3 is NONE
    t5 = None if t4 is None else not t4
    t2 = t5
    if t2 is not True:
        t7 = v_axis.get('mechanics.counterbalance')
        t8 = None if t7 is None else t7 is NONE
        t9 = None if t8 is None else not t8
        t6 = t9
        if t6 is not False:
            t10 = v_axis.get('mechanics.counterbalance')
            if t10 is NONE:
                t10 = None
            t11 = v_axis.get('@s:counterbalance_enough', 1)
            t12 = v_axis.get('@s:counterbalance_enough', 1)
            t13 = None if t12 is None else 2 - t12
            t14 = None if t10 is None or t11 is None or t13 is None else between(t10, t11, t13)
            if t6 is None:
                t6 = False if t14 is False else None
            else:
                t6 = t14
        if t2 is None:
            t2 = True if t6 is True else None
        else:
            t2 = t6
    return None if t2 is None else 1 if t2 else 0

def r_brake_holds_load(v_axis, v_machine):
    t4 = d_axis__has_driving_shaft(v_axis)
    t3 = t4
    if t3 is not False:
        t5 = d_axis__hangs(v_axis)
        if t3 is None:
            t3 = False if t5 is False else None
        else:
            t3 = t5
    t2 = t3
    if t2 is not False:
        t6 = v_axis.get('motor.brake')
        t7 = None if t6 is None else t6 is NONE
        t8 = None if t7 is None else not t7
        if t2 is None:
            t2 = False if t8 is False else None
        else:
            t2 = t8
    t1 = t2
    if t1 is not False:
        t9 = d_axis__ratios_are_settled(v_axis)
        if t1 is None:
            t1 = False if t9 is False else None
        else:
            t1 = t9
    if t1 is not True:
        return 2 if t1 is False else None
    t10 = d_axis__gravity_torque(v_axis)
    l_load_torque = t10
    t11 = v_axis.get('motor.brake.holding_torque')
    t12 = v_axis.get('@s:brake_torque_margin', Fraction(3, 2))
    t13 = None if l_load_torque is None or t12 is None else l_load_torque * t12
    t14 = None if t11 is None or t13 is None else t11 >= t13
    return None if t14 is None else 1 if t14 else 0

def r_brake_holds_linear_motor(v_axis, v_machine):
    t3 = d_axis__has_driving_shaft(v_axis)
    t4 = None if t3 is None else not t3
    t2 = t4
    if t2 is not False:
        t5 = d_axis__hangs(v_axis)
        if t2 is None:
            t2 = False if t5 is False else None
        else:
            t2 = t5
    t1 = t2
    if t1 is not False:
        t6 = v_axis.get('motor.brake')
        t7 = None if t6 is None else t6 is NONE
        t8 = None if t7 is None else not t7
        if t1 is None:
            t1 = False if t8 is False else None
        else:
            t1 = t8
    if t1 is not True:
        return 2 if t1 is False else None
    t9 = v_axis.get('motor.brake.holding_force')
    t10 = d_axis__gravity_force(v_axis)
    t11 = v_axis.get('@s:brake_torque_margin', Fraction(3, 2))
    t12 = None if t10 is None or t11 is None else t10 * t11
    t13 = None if t9 is None or t12 is None else t9 >= t12
    return None if t13 is None else 1 if t13 else 0

def r_vertical_agrees_with_inclination(v_axis, v_machine):
    t2 = v_axis.get('motion')
    t3 = None if t2 is None else t2 == 'linear'
    t1 = t3
    if t1 is not False:
        t4 = v_axis.get('mechanics.vertical')
        if t1 is None:
            t1 = False if t4 is False else None
        else:
            t1 = t4
    if t1 is not True:
        return 2 if t1 is False else None
    t5 = d_axis__weight_share(v_axis)
    t6 = None if t5 is None else t5 > 0
    return None if t6 is None else 1 if t6 else 0

def r_following_error_window_above_lag(v_axis, v_machine):
    t1 = d_axis__speed_in_wrong_unit(v_axis)
    t2 = None if t1 is None else not t1
    if t2 is not True:
        return 2 if t2 is False else None
    t3 = v_axis.get('drive.following_error_window')
    t4 = d_axis__lag(v_axis)
    t5 = v_axis.get('@s:following_error_margin', Fraction(6, 5))
    t6 = None if t4 is None or t5 is None else t4 * t5
    t7 = None if t3 is None or t6 is None else t3 >= t6
    return None if t7 is None else 1 if t7 else 0

def r_following_error_window_within_free_distance(v_axis, v_machine):
    t1 = v_axis.get('drive.following_error_window')
    t2 = v_axis.get('mechanics.free_distance')
    t3 = None if t1 is None or t2 is None else t1 <= t2
    return None if t3 is None else 1 if t3 else 0

def r_following_error_found_before_damage(v_axis, v_machine):
    t3 = v_axis.get('drive.following_error_window')
    t4 = v_axis.get('mechanics.free_distance')
    t5 = None if t3 is None or t4 is None else t3 <= t4
    t2 = t5
    if t2 is None and not ('#disputed' in v_axis and disputed(v_axis, ('drive.following_error_window', 'mechanics.free_distance'))):
        t2 = True
    t1 = t2
    if t1 is not False:
        t6 = d_axis__speed_in_wrong_unit(v_axis)
        t7 = None if t6 is None else not t6
        if t1 is None:
            t1 = False if t7 is False else None
        else:
            t1 = t7
    if t1 is not True:
        return 2 if t1 is False else None
    t8 = d_axis__deviation_before_reaction(v_axis)
    t9 = v_axis.get('mechanics.free_distance')
    t10 = None if t8 is None or t9 is None else t8 <= t9
    return None if t10 is None else 1 if t10 else 0

def r_cycle_times_are_multiples(v_axis, v_machine):
    t1 = v_machine.get('network')
    t2 = None if t1 is None else t1 is NONE
    t3 = None if t2 is None else not t2
    if t3 is not True:
        return 2 if t3 is False else None
    t5 = v_axis.get('controller.cycle_time')
    t6 = v_machine.get('network.cycle_time')
    t7 = None if t5 is None or t6 is None else divides(t5, t6)
    t4 = t7
    if t4 is not True:
        t8 = v_machine.get('network.cycle_time')
        t9 = v_axis.get('controller.cycle_time')
        t10 = None if t8 is None or t9 is None else divides(t8, t9)
        if t4 is None:
            t4 = True if t10 is True else None
        else:
            t4 = t10
    return None if t4 is None else 1 if t4 else 0

def r_ramp_time_plausible(v_axis, v_machine):
    t1 = d_axis__speed_in_wrong_unit(v_axis)
    t2 = None if t1 is None else not t1
    if t2 is not True:
        return 2 if t2 is False else None
    t4 = d_axis__ramp_time(v_axis)
    t5 = v_axis.get('controller.cycle_time')
    t6 = v_axis.get('@s:fewest_ramp_cycles', 5)
    t7 = None if t5 is None or t6 is None else t5 * t6
    t8 = None if t4 is None or t7 is None else t4 >= t7
    t3 = t8
    if t3 is not False:
        t9 = d_axis__ramp_time(v_axis)
        t10 = v_axis.get('@s:longest_ramp', 10)
        t11 = None if t9 is None or t10 is None else t9 <= t10
        if t3 is None:
            t3 = False if t11 is False else None
        else:
            t3 = t11
    return None if t3 is None else 1 if t3 else 0

def r_jerk_fits_acceleration(v_axis, v_machine):
    t1 = v_axis.get('controller.max_jerk')
    t2 = None if t1 is None else t1 is NONE
    t3 = None if t2 is None else not t2
    if t3 is not True:
        return 2 if t3 is False else None
    t5 = d_axis__jerk_time(v_axis)
    t6 = v_axis.get('controller.cycle_time')
    t7 = None if t5 is None or t6 is None else t5 >= t6
    t4 = t7
    if t4 is not False:
        t8 = d_axis__jerk_time(v_axis)
        t9 = d_axis__ramp_time(v_axis)
        t10 = None if t8 is None or t9 is None else t8 <= t9
        if t4 is None:
            t4 = False if t10 is False else None
        else:
            t4 = t10
    return None if t4 is None else 1 if t4 else 0

def r_position_gain_fits_cycle(v_axis, v_machine):
    t1 = v_axis.get('controller.velocity_gain')
    t2 = v_axis.get('controller.cycle_time')
    t3 = None if t1 is None or t2 is None else t1 * t2
    l_gain_per_cycle = t3
    t4 = v_axis.get('@s:highest_gain_per_cycle', Fraction(1, 4))
    t5 = None if l_gain_per_cycle is None or t4 is None else l_gain_per_cycle <= t4
    return None if t5 is None else 1 if t5 else 0

def r_backlash_within_accuracy(v_axis, v_machine):
    t1 = v_axis.get('encoder.mounted_on')
    t2 = None if t1 is None else t1 == 'motor'
    if t2 is not True:
        return 2 if t2 is False else None
    t3 = v_axis.get('mechanics.backlash')
    t4 = v_axis.get('mechanics.required_accuracy')
    t5 = None if t3 is None or t4 is None else t3 <= t4
    return None if t5 is None else 1 if t5 else 0

def r_resolution_within_accuracy(v_axis, v_machine):
    t1 = v_axis.get('mechanics.required_accuracy')
    t2 = d_axis__counts_per_unit(v_axis)
    t3 = None if t1 is None or t2 is None else t1 * t2
    l_counts = t3
    t4 = v_axis.get('@s:counts_within_accuracy', 10)
    t5 = None if t4 is None else 1 * t4
    t6 = None if l_counts is None or t5 is None else l_counts >= t5
    return None if t6 is None else 1 if t6 else 0

def r_one_device_at_an_address(v_machine):
    t2 = v_machine.get('network')
    t3 = None if t2 is None else t2 is NONE
    t4 = None if t3 is None else not t3
    t1 = t4
    if t1 is not False:
        t5 = d_machine__addresses_are_apart(v_machine)
        if t1 is None:
            t1 = False if t5 is False else None
        else:
            t1 = t5
    if t1 is not True:
        return 2 if t1 is False else None
    t9 = v_machine.get('network.nodes')
    t10 = v_machine.get('network.nodes#partial')
    if t9 is None:
        t11 = None
    else:
        t11 = None if t10 else True
        t12 = set()
        for v_n in metered(t9, 4):
            t13 = d_machine_network_nodes__network_number(v_n)
            t14 = None if t13 is None else eq(t13, 1)
            if t14 is False:
                continue
            t16 = v_n.get('address')
            t15 = distinct(t16)
            if t15 is None or t14 is None:
                t11 = None
                continue
            if t15 in t12:
                t11 = False
                break
            t12.add(t15)
    t8 = t11
    if t8 is not False:
        t17 = v_machine.get('network.nodes')
        t18 = v_machine.get('network.nodes#partial')
        if t17 is None:
            t19 = None
        else:
            t19 = None if t18 else True
            t20 = set()
            for v_n in metered(t17, 4):
                t21 = d_machine_network_nodes__network_number(v_n)
                t22 = None if t21 is None else eq(t21, 2)
                if t22 is False:
                    continue
                t24 = v_n.get('address')
                t23 = distinct(t24)
                if t23 is None or t22 is None:
                    t19 = None
                    continue
                if t23 in t20:
                    t19 = False
                    break
                t20.add(t23)
        if t8 is None:
            t8 = False if t19 is False else None
        else:
            t8 = t19
    t7 = t8
    if t7 is not False:
        t25 = v_machine.get('network.nodes')
        t26 = v_machine.get('network.nodes#partial')
        if t25 is None:
            t27 = None
        else:
            t27 = None if t26 else True
            t28 = set()
            for v_n in metered(t25, 4):
                t29 = d_machine_network_nodes__network_number(v_n)
                t30 = None if t29 is None else eq(t29, 3)
                if t30 is False:
                    continue
                t32 = v_n.get('address')
                t31 = distinct(t32)
                if t31 is None or t30 is None:
                    t27 = None
                    continue
                if t31 in t28:
                    t27 = False
                    break
                t28.add(t31)
        if t7 is None:
            t7 = False if t27 is False else None
        else:
            t7 = t27
    t6 = t7
    if t6 is not False:
        t33 = v_machine.get('network.nodes')
        t34 = v_machine.get('network.nodes#partial')
        if t33 is None:
            t35 = None
        else:
            t35 = None if t34 else True
            t36 = set()
            for v_n in metered(t33, 4):
                t37 = d_machine_network_nodes__network_number(v_n)
                t38 = None if t37 is None else eq(t37, 4)
                if t38 is False:
                    continue
                t40 = v_n.get('address')
                t39 = distinct(t40)
                if t39 is None or t38 is None:
                    t35 = None
                    continue
                if t39 in t36:
                    t35 = False
                    break
                t36.add(t39)
        if t6 is None:
            t6 = False if t35 is False else None
        else:
            t6 = t35
    return None if t6 is None else 1 if t6 else 0

def r_unique_node_addresses(v_machine):
    t2 = v_machine.get('network')
    t3 = None if t2 is None else t2 is NONE
    t4 = None if t3 is None else not t3
    t1 = t4
    if t1 is None and not ('#disputed' in v_machine and disputed(v_machine, ('network',))):
        t1 = True
    if t1 is not True:
        return 2 if t1 is False else None
    t5 = d_machine__addresses_are_apart(v_machine)
    return None if t5 is None else 1 if t5 else 0

def r_battery_keeps_turns(v_axis, v_machine):
    t1 = d_axis__turns_need_battery(v_axis)
    if t1 is not True:
        return 2 if t1 is False else None
    t2 = d_axis__batteries(v_axis)
    t3 = None if t2 is None else t2 >= 1
    return None if t3 is None else 1 if t3 else 0

def r_battery_in_one_place(v_axis, v_machine):
    t2 = d_axis__turns_need_battery(v_axis)
    t1 = t2
    if t1 is not False:
        t3 = d_axis__batteries(v_axis)
        t4 = None if t3 is None else t3 >= 1
        if t1 is None:
            t1 = False if t4 is False else None
        else:
            t1 = t4
    if t1 is not True:
        return 2 if t1 is False else None
    t5 = d_axis__batteries(v_axis)
    t6 = None if t5 is None else t5 <= 1
    return None if t6 is None else 1 if t6 else 0

def r_battery_where_a_place_is_offered(v_axis, v_machine):
    t2 = d_axis__turns_need_battery(v_axis)
    t1 = t2
    if t1 is not False:
        t3 = d_axis__batteries(v_axis)
        t4 = None if t3 is None else eq(t3, 1)
        if t1 is None:
            t1 = False if t4 is False else None
        else:
            t1 = t4
    if t1 is not True:
        return 2 if t1 is False else None
    t9 = v_axis.get('encoder.turn_counter.battery.places')
    t10 = v_axis.get('encoder.turn_counter.battery.places#partial')
    if t9 is None:
        t11 = None
    elif 'cable' in t9:
        t11 = True
    else:
        t11 = None if t10 else False
    t12 = None if t11 is None else not t11
    t8 = t12
    if t8 is not True:
        t13 = v_axis.get('encoder.turn_counter.battery.offered_places')
        t14 = v_axis.get('encoder.turn_counter.battery.offered_places#partial')
        if t13 is None:
            t15 = None
        elif 'cable' in t13:
            t15 = True
        else:
            t15 = None if t14 else False
        if t8 is None:
            t8 = True if t15 is True else None
        else:
            t8 = t15
    t7 = t8
    if t7 is not False:
        t17 = v_axis.get('encoder.turn_counter.battery.places')
        t18 = v_axis.get('encoder.turn_counter.battery.places#partial')
        if t17 is None:
            t19 = None
        elif 'drive' in t17:
            t19 = True
        else:
            t19 = None if t18 else False
        t20 = None if t19 is None else not t19
        t16 = t20
        if t16 is not True:
            t21 = v_axis.get('encoder.turn_counter.battery.offered_places')
            t22 = v_axis.get('encoder.turn_counter.battery.offered_places#partial')
            if t21 is None:
                t23 = None
            elif 'drive' in t21:
                t23 = True
            else:
                t23 = None if t22 else False
            if t16 is None:
                t16 = True if t23 is True else None
            else:
                t16 = t23
        if t7 is None:
            t7 = False if t16 is False else None
        else:
            t7 = t16
    t6 = t7
    if t6 is not False:
        t25 = v_axis.get('encoder.turn_counter.battery.places')
        t26 = v_axis.get('encoder.turn_counter.battery.places#partial')
        if t25 is None:
            t27 = None
        elif 'encoder' in t25:
            t27 = True
        else:
            t27 = None if t26 else False
        t28 = None if t27 is None else not t27
        t24 = t28
        if t24 is not True:
            t29 = v_axis.get('encoder.turn_counter.battery.offered_places')
            t30 = v_axis.get('encoder.turn_counter.battery.offered_places#partial')
            if t29 is None:
                t31 = None
            elif 'encoder' in t29:
                t31 = True
            else:
                t31 = None if t30 else False
            if t24 is None:
                t24 = True if t31 is True else None
            else:
                t24 = t31
        if t6 is None:
            t6 = False if t24 is False else None
        else:
            t6 = t24
    t5 = t6
    if t5 is not False:
        t33 = v_axis.get('encoder.turn_counter.battery.places')
        t34 = v_axis.get('encoder.turn_counter.battery.places#partial')
        if t33 is None:
            t35 = None
        elif 'cabinet' in t33:
            t35 = True
        else:
            t35 = None if t34 else False
        t36 = None if t35 is None else not t35
        t32 = t36
        if t32 is not True:
            t37 = v_axis.get('encoder.turn_counter.battery.offered_places')
            t38 = v_axis.get('encoder.turn_counter.battery.offered_places#partial')
            if t37 is None:
                t39 = None
            elif 'cabinet' in t37:
                t39 = True
            else:
                t39 = None if t38 else False
            if t32 is None:
                t32 = True if t39 is True else None
            else:
                t32 = t39
        if t5 is None:
            t5 = False if t32 is False else None
        else:
            t5 = t32
    return None if t5 is None else 1 if t5 else 0

def r_battery_within_its_life(v_axis, v_machine):
    t2 = d_axis__turns_need_battery(v_axis)
    t1 = t2
    if t1 is not False:
        t3 = v_axis.get('encoder.turn_counter.battery')
        t4 = None if t3 is None else t3 is NONE
        t5 = None if t4 is None else not t4
        if t1 is None:
            t1 = False if t5 is False else None
        else:
            t1 = t5
    if t1 is not True:
        return 2 if t1 is False else None
    t6 = v_machine.get('check_date')
    t7 = v_axis.get('encoder.turn_counter.battery.fitted_on')
    t8 = None if t6 is None or t7 is None else t6 - t7
    l_age = t8
    t9 = v_machine.get('check_date')
    t10 = d_axis__battery_ends_on(v_axis)
    t11 = None if t9 is None or t10 is None else t9 - t10
    l_overdue = t11
    t12 = v_machine.get('check_date')
    t13 = d_axis__battery_ends_on(v_axis)
    t14 = None if t12 is None or t13 is None else t12 < t13
    return None if t14 is None else 1 if t14 else 0

def r_battery_change_due(v_axis, v_machine):
    t3 = d_axis__turns_need_battery(v_axis)
    t2 = t3
    if t2 is not False:
        t4 = v_axis.get('encoder.turn_counter.battery')
        t5 = None if t4 is None else t4 is NONE
        t6 = None if t5 is None else not t5
        if t2 is None:
            t2 = False if t6 is False else None
        else:
            t2 = t6
    t1 = t2
    if t1 is not False:
        t7 = v_machine.get('check_date')
        t8 = d_axis__battery_ends_on(v_axis)
        t9 = None if t7 is None or t8 is None else t7 < t8
        if t1 is None:
            t1 = False if t9 is False else None
        else:
            t1 = t9
    if t1 is not True:
        return 2 if t1 is False else None
    t10 = v_machine.get('check_date')
    t11 = d_axis__battery_ends_on(v_axis)
    t12 = None if t10 is None or t11 is None else t10 - t11
    t13 = None if t12 is None else -t12
    t14 = None if t13 is None else div(t13, 86400)
    l_whole_days_left = t14
    t15 = v_machine.get('check_date')
    t16 = v_axis.get('@s:battery_change_notice', 5184000)
    t17 = None if t15 is None or t16 is None else t15 + t16
    t18 = d_axis__battery_ends_on(v_axis)
    t19 = None if t17 is None or t18 is None else t17 <= t18
    return None if t19 is None else 1 if t19 else 0

def r_low_battery_is_noticed(v_axis, v_machine):
    t2 = d_axis__turns_need_battery(v_axis)
    t1 = t2
    if t1 is not False:
        t3 = v_axis.get('encoder.turn_counter.battery')
        t4 = None if t3 is None else t3 is NONE
        t5 = None if t4 is None else not t4
        if t1 is None:
            t1 = False if t5 is False else None
        else:
            t1 = t5
    if t1 is not True:
        return 2 if t1 is False else None
    t6 = v_axis.get('encoder.turn_counter.battery.low_warning')
    t7 = None if t6 is None else t6 == 'ignored'
    t8 = None if t7 is None else not t7
    return None if t8 is None else 1 if t8 else 0

def r_batteryless_counter_without_battery(v_axis, v_machine):
    t2 = v_axis.get('encoder.kind')
    t3 = None if t2 is None else t2 == 'absolute_multiturn'
    t1 = t3
    if t1 is not False:
        t4 = v_axis.get('encoder.turn_counter.backup')
        t5 = None if t4 is None else t4 == 'batteryless'
        if t1 is None:
            t1 = False if t5 is False else None
        else:
            t1 = t5
    if t1 is not True:
        return 2 if t1 is False else None
    t6 = d_axis__batteries(v_axis)
    t7 = None if t6 is None else eq(t6, 0)
    return None if t7 is None else 1 if t7 else 0

def r_power_off_speed_within_counting_limit(v_axis, v_machine):
    t1 = d_axis__turns_need_battery(v_axis)
    if t1 is not True:
        return 2 if t1 is False else None
    t2 = d_axis__top_encoder_speed(v_axis)
    t3 = v_axis.get('encoder.turn_counter.power_off_speed_limit')
    t4 = None if t2 is None or t3 is None else t2 <= t3
    return None if t4 is None else 1 if t4 else 0

def r_screw_below_critical_speed(v_axis, v_machine):
    t3 = v_axis.get('mechanics.final.kind')
    t4 = None if t3 is None else t3 == 'screw'
    t2 = t4
    if t2 is not False:
        t5 = d_axis__lead_agrees(v_axis)
        if t2 is None:
            t2 = False if t5 is False else None
        else:
            t2 = t5
    t1 = t2
    if t1 is not False:
        t6 = d_axis__speed_in_wrong_unit(v_axis)
        t7 = None if t6 is None else not t6
        if t1 is None:
            t1 = False if t7 is False else None
        else:
            t1 = t7
    if t1 is not True:
        return 2 if t1 is False else None
    t8 = d_axis__screw_speed(v_axis)
    t9 = d_axis__critical_speed(v_axis)
    t10 = None if t8 is None or t9 is None else t8 <= t9
    return None if t10 is None else 1 if t10 else 0

def r_screw_within_permitted_speed(v_axis, v_machine):
    t3 = v_axis.get('mechanics.final.kind')
    t4 = None if t3 is None else t3 == 'screw'
    t2 = t4
    if t2 is not False:
        t5 = d_axis__lead_agrees(v_axis)
        if t2 is None:
            t2 = False if t5 is False else None
        else:
            t2 = t5
    t1 = t2
    if t1 is not False:
        t6 = d_axis__speed_in_wrong_unit(v_axis)
        t7 = None if t6 is None else not t6
        if t1 is None:
            t1 = False if t7 is False else None
        else:
            t1 = t7
    if t1 is not True:
        return 2 if t1 is False else None
    t8 = d_axis__screw_speed(v_axis)
    t9 = d_axis__permitted_screw_speed(v_axis)
    t10 = None if t8 is None or t9 is None else t8 <= t9
    return None if t10 is None else 1 if t10 else 0

def r_screw_does_not_buckle(v_axis, v_machine):
    t2 = v_axis.get('motion')
    t3 = None if t2 is None else t2 == 'linear'
    t1 = t3
    if t1 is not False:
        t4 = v_axis.get('mechanics.final.kind')
        t5 = None if t4 is None else t4 == 'screw'
        if t1 is None:
            t1 = False if t5 is False else None
        else:
            t1 = t5
    if t1 is not True:
        return 2 if t1 is False else None
    t6 = d_axis__available_torque(v_axis)
    t7 = d_axis__units_per_motor_rev(v_axis)
    t8 = None if t6 is None or t7 is None else div(t6, t7)
    l_lossless_thrust = t8
    t9 = d_axis__torque_less_losses(v_axis)
    t10 = d_axis__units_per_motor_rev(v_axis)
    t11 = None if t9 is None or t10 is None else div(t9, t10)
    l_thrust = t11
    t12 = d_axis__buckling_load(v_axis)
    t13 = None if l_thrust is None or t12 is None else div(l_thrust, t12)
    l_load_share = t13
    t15 = d_axis__buckling_load(v_axis)
    t16 = None if l_lossless_thrust is None or t15 is None else div(l_lossless_thrust, t15)
    t17 = v_axis.get('@s:buckling_share', Fraction(1, 2))
    t18 = None if t16 is None or t17 is None else between(t16, 0, t17)
    t14 = t18
    if t14 is not True:
        t19 = v_axis.get('@s:buckling_share', Fraction(1, 2))
        t20 = None if l_load_share is None or t19 is None else between(l_load_share, 0, t19)
        if t14 is None:
            t14 = True if t20 is True else None
        else:
            t14 = t20
    return None if t14 is None else 1 if t14 else 0

def r_spare_torque_not_below_fitted(v_axis, v_fitted, v_machine):
    t1 = d_axis__has_driving_shaft(v_axis)
    if t1 is not True:
        return 2 if t1 is False else None
    t3 = v_axis.get('motor.rated_torque')
    t4 = v_fitted.get('motor.rated_torque')
    t5 = None if t3 is None or t4 is None else t3 >= t4
    t2 = t5
    if t2 is not False:
        t6 = v_axis.get('motor.peak_torque')
        t7 = v_fitted.get('motor.peak_torque')
        t8 = None if t6 is None or t7 is None else t6 >= t7
        if t2 is None:
            t2 = False if t8 is False else None
        else:
            t2 = t8
    return None if t2 is None else 1 if t2 else 0

def r_spare_rotor_like_fitted(v_axis, v_fitted, v_machine):
    t1 = d_axis__has_driving_shaft(v_axis)
    if t1 is not True:
        return 2 if t1 is False else None
    t3 = v_axis.get('motor.inertia')
    t4 = v_fitted.get('motor.inertia')
    t5 = v_axis.get('@s:spare_inertia_change', 2)
    t6 = None if t4 is None or t5 is None else t4 * t5
    t7 = None if t3 is None or t6 is None else t3 <= t6
    t2 = t7
    if t2 is not False:
        t8 = v_axis.get('motor.inertia')
        t9 = v_axis.get('@s:spare_inertia_change', 2)
        t10 = None if t8 is None or t9 is None else t8 * t9
        t11 = v_fitted.get('motor.inertia')
        t12 = None if t10 is None or t11 is None else t10 >= t11
        if t2 is None:
            t2 = False if t12 is False else None
        else:
            t2 = t12
    return None if t2 is None else 1 if t2 else 0

def r_spare_has_brake_like_fitted(v_axis, v_fitted, v_machine):
    t1 = v_fitted.get('motor.brake')
    t2 = None if t1 is None else t1 is NONE
    t3 = None if t2 is None else not t2
    if t3 is not True:
        return 2 if t3 is False else None
    t4 = v_axis.get('motor.brake')
    t5 = None if t4 is None else t4 is NONE
    t6 = None if t5 is None else not t5
    return None if t6 is None else 1 if t6 else 0

def r_spare_brake_holds_like_fitted(v_axis, v_fitted, v_machine):
    t2 = v_fitted.get('motor.brake')
    t3 = None if t2 is None else t2 is NONE
    t4 = None if t3 is None else not t3
    t1 = t4
    if t1 is not False:
        t5 = v_axis.get('motor.brake')
        t6 = None if t5 is None else t5 is NONE
        t7 = None if t6 is None else not t6
        if t1 is None:
            t1 = False if t7 is False else None
        else:
            t1 = t7
    if t1 is not True:
        return 2 if t1 is False else None
    t8 = v_axis.get('motor.brake.holding_torque')
    t9 = v_fitted.get('motor.brake.holding_torque')
    t10 = None if t8 is None or t9 is None else t8 >= t9
    return None if t10 is None else 1 if t10 else 0

def r_spare_brake_voltage_like_fitted(v_axis, v_fitted, v_machine):
    t2 = v_fitted.get('motor.brake')
    t3 = None if t2 is None else t2 is NONE
    t4 = None if t3 is None else not t3
    t1 = t4
    if t1 is not False:
        t5 = v_axis.get('motor.brake')
        t6 = None if t5 is None else t5 is NONE
        t7 = None if t6 is None else not t6
        if t1 is None:
            t1 = False if t7 is False else None
        else:
            t1 = t7
    if t1 is not True:
        return 2 if t1 is False else None
    t8 = v_axis.get('motor.brake.voltage')
    t9 = v_fitted.get('motor.brake.voltage')
    t10 = None if t8 is None or t9 is None else eq(t8, t9)
    return None if t10 is None else 1 if t10 else 0

def r_spare_battery_lasts_as_long(v_axis, v_fitted, v_machine):
    t3 = d_axis__relies_on_turn_counter(v_fitted)
    t2 = t3
    if t2 is not False:
        t4 = v_fitted.get('encoder.turn_counter.battery')
        t5 = None if t4 is None else t4 is NONE
        t6 = None if t5 is None else not t5
        if t2 is None:
            t2 = False if t6 is False else None
        else:
            t2 = t6
    t1 = t2
    if t1 is not False:
        t7 = v_axis.get('encoder.turn_counter.battery')
        t8 = None if t7 is None else t7 is NONE
        t9 = None if t8 is None else not t8
        if t1 is None:
            t1 = False if t9 is False else None
        else:
            t1 = t9
    if t1 is not True:
        return 2 if t1 is False else None
    t10 = v_axis.get('encoder.turn_counter.battery.life')
    t11 = v_fitted.get('encoder.turn_counter.battery.life')
    t12 = None if t10 is None or t11 is None else t10 >= t11
    return None if t12 is None else 1 if t12 else 0

def r_acceleration_torque_available(v_axis, v_machine):
    t2 = d_axis__has_driving_shaft(v_axis)
    t1 = t2
    if t1 is not False:
        t3 = d_axis__ratios_are_settled(v_axis)
        if t1 is None:
            t1 = False if t3 is False else None
        else:
            t1 = t3
    if t1 is not True:
        return 2 if t1 is False else None
    t5 = d_axis__acceleration_torque(v_axis)
    t6 = v_axis.get('motor.peak_torque')
    t7 = None if t5 is None or t6 is None else t5 <= t6
    t4 = t7
    if t4 is not False:
        t8 = d_axis__acceleration_torque(v_axis)
        t9 = v_axis.get('drive.torque_limit')
        t10 = None if t8 is None or t9 is None else t8 <= t9
        if t4 is None:
            t4 = False if t10 is False else None
        else:
            t4 = t10
    return None if t4 is None else 1 if t4 else 0

def r_stop_deceleration_attainable(v_axis, v_machine):
    t4 = d_axis__has_driving_shaft(v_axis)
    t3 = t4
    if t3 is not False:
        t5 = d_axis__ratios_are_settled(v_axis)
        if t3 is None:
            t3 = False if t5 is False else None
        else:
            t3 = t5
    t2 = t3
    if t2 is not False:
        t6 = v_axis.get('controller.type')
        t7 = None if t6 is None else t6 == 'linear'
        if t2 is None:
            t2 = False if t7 is False else None
        else:
            t2 = t7
    t1 = t2
    if t1 is not False:
        t9 = v_axis.get('mechanics.efficiency')
        t10 = None if t9 is None else t9 <= 1
        t8 = t10
        if t8 is None and not ('#disputed' in v_axis and disputed(v_axis, ('mechanics.efficiency',))):
            t8 = True
        if t1 is None:
            t1 = False if t8 is False else None
        else:
            t1 = t8
    if t1 is not True:
        return 2 if t1 is False else None
    t13 = v_axis.get('drive.stop_reaction.option')
    t14 = None if t13 is None else t13 == 'disable_at_once'
    t12 = t14
    if t12 is not True:
        t15 = v_axis.get('drive.stop_reaction.deceleration')
        t16 = d_axis__attainable_deceleration(v_axis)
        t17 = None if t15 is None or t16 is None else t15 <= t16
        if t12 is None:
            t12 = True if t17 is True else None
        else:
            t12 = t17
    t11 = t12
    if t11 is not False:
        t20 = v_axis.get('controller.software_limits')
        t21 = None if t20 is None else t20 is NONE
        t19 = t21
        if t19 is not True:
            t22 = v_axis.get('controller.software_limits.planned')
            if t19 is None:
                t19 = True if t22 is True else None
            else:
                t19 = t22
        t18 = t19
        if t18 is not True:
            t23 = v_axis.get('controller.stop.deceleration')
            t24 = d_axis__attainable_deceleration(v_axis)
            t25 = None if t23 is None or t24 is None else t23 <= t24
            if t18 is None:
                t18 = True if t25 is True else None
            else:
                t18 = t25
        if t11 is None:
            t11 = False if t18 is False else None
        else:
            t11 = t18
    return None if t11 is None else 1 if t11 else 0

def r_efficiency_is_a_share(v_axis, v_machine):
    t1 = d_axis__has_driving_shaft(v_axis)
    if t1 is not True:
        return 2 if t1 is False else None
    t2 = v_axis.get('mechanics.efficiency')
    t3 = None if t2 is None else t2 <= 1
    return None if t3 is None else 1 if t3 else 0

def r_torque_limit_within_motor_peak(v_axis, v_machine):
    t1 = d_axis__has_driving_shaft(v_axis)
    if t1 is not True:
        return 2 if t1 is False else None
    t2 = v_axis.get('drive.torque_limit')
    t3 = v_axis.get('motor.peak_torque')
    t4 = None if t2 is None or t3 is None else t2 <= t3
    return None if t4 is None else 1 if t4 else 0

def r_motor_data_in_order(v_axis, v_machine):
    t1 = d_axis__has_driving_shaft(v_axis)
    if t1 is not True:
        return 2 if t1 is False else None
    t3 = v_axis.get('motor.rated_torque')
    t4 = v_axis.get('motor.peak_torque')
    t5 = None if t3 is None or t4 is None else t3 <= t4
    t2 = t5
    if t2 is not False:
        t6 = v_axis.get('motor.rated_speed')
        t7 = v_axis.get('motor.max_speed')
        t8 = None if t6 is None or t7 is None else t6 <= t7
        if t2 is None:
            t2 = False if t8 is False else None
        else:
            t2 = t8
    return None if t2 is None else 1 if t2 else 0

def r_top_speed_within_rated_speed(v_axis, v_machine):
    t5 = d_axis__has_driving_shaft(v_axis)
    t4 = t5
    if t4 is not False:
        t6 = d_axis__ratios_are_settled(v_axis)
        if t4 is None:
            t4 = False if t6 is False else None
        else:
            t4 = t6
    t3 = t4
    if t3 is not False:
        t7 = d_axis__speed_in_wrong_unit(v_axis)
        t8 = None if t7 is None else not t7
        if t3 is None:
            t3 = False if t8 is False else None
        else:
            t3 = t8
    t2 = t3
    if t2 is not False:
        t10 = d_axis__top_motor_speed(v_axis)
        t11 = v_axis.get('motor.max_speed')
        t12 = None if t10 is None or t11 is None else t10 <= t11
        t9 = t12
        if t9 is None and not ('#disputed' in v_axis and disputed(v_axis, ('controller.max_velocity', 'mechanics.final.kind', 'mechanics.final.lead', 'mechanics.final.starts', 'mechanics.final.pitch', 'mechanics.final.teeth', 'mechanics.final.helix', 'mechanics.final.module', 'mechanics.final.diameter', 'motion', 'mechanics.stages', 'mechanics.stages[].motor_turns_per_load_turn', 'mechanics.stages[].load_side_teeth', 'mechanics.stages[].motor_side_teeth', 'motor.max_speed'))):
            t9 = True
        if t2 is None:
            t2 = False if t9 is False else None
        else:
            t2 = t9
    t1 = t2
    if t1 is not False:
        t14 = v_axis.get('motor.rated_speed')
        t15 = v_axis.get('motor.max_speed')
        t16 = None if t14 is None or t15 is None else t14 <= t15
        t13 = t16
        if t13 is None and not ('#disputed' in v_axis and disputed(v_axis, ('motor.rated_speed', 'motor.max_speed'))):
            t13 = True
        if t1 is None:
            t1 = False if t13 is False else None
        else:
            t1 = t13
    if t1 is not True:
        return 2 if t1 is False else None
    t17 = d_axis__top_motor_speed(v_axis)
    t18 = v_axis.get('motor.rated_speed')
    t19 = None if t17 is None or t18 is None else t17 <= t18
    return None if t19 is None else 1 if t19 else 0

def r_duty_carries_the_weight(v_axis, v_machine):
    t3 = d_axis__has_driving_shaft(v_axis)
    t2 = t3
    if t2 is not False:
        t4 = d_axis__ratios_are_settled(v_axis)
        if t2 is None:
            t2 = False if t4 is False else None
        else:
            t2 = t4
    t1 = t2
    if t1 is not False:
        t5 = d_axis__hangs(v_axis)
        if t1 is None:
            t1 = False if t5 is False else None
        else:
            t1 = t5
    if t1 is not True:
        return 2 if t1 is False else None
    t6 = v_axis.get('controller.duty')
    t7 = v_axis.get('controller.duty#partial')
    if t6 is None or t7:
        t8 = None
    else:
        t9 = True
        t8 = []
        for v_seg in t6:
            t10 = v_seg.get('torque')
            t11 = None if t10 is None else f_absolute(t10)
            if t11 is None:
                t9 = False
                break
            t8.append(t11)
        t8 = extreme(t8, True) if t9 else None
    l_highest = t8
    t12 = d_axis__gravity_torque(v_axis)
    t13 = None if l_highest is None or t12 is None else l_highest >= t12
    return None if t13 is None else 1 if t13 else 0

def r_duty_within_rated_torque(v_axis, v_machine):
    t1 = d_axis__has_driving_shaft(v_axis)
    if t1 is not True:
        return 2 if t1 is False else None
    t2 = d_axis__duty_load(v_axis)
    t3 = None if t2 is None else t2 <= 1
    return None if t3 is None else 1 if t3 else 0

def r_duty_peaks_within_limits(v_axis, v_machine):
    t1 = d_axis__has_driving_shaft(v_axis)
    if t1 is not True:
        return 2 if t1 is False else None
    t2 = v_axis.get('controller.duty')
    t3 = v_axis.get('controller.duty#partial')
    if t2 is None:
        t4 = None
    else:
        t4 = None if t3 else True
        for v_seg in t2:
            t5 = v_seg.get('torque')
            t6 = None if t5 is None else f_absolute(t5)
            t7 = d_axis__available_torque(v_axis)
            t8 = None if t6 is None or t7 is None else t6 <= t7
            if t8 is False:
                t4 = False
                break
            if t8 is None:
                t4 = None
    return None if t4 is None else 1 if t4 else 0

def r_inertia_ratio_within_reason(v_axis, v_machine):
    t2 = d_axis__has_driving_shaft(v_axis)
    t1 = t2
    if t1 is not False:
        t3 = d_axis__load_sits_on_rotor(v_axis)
        t4 = None if t3 is None else not t3
        if t1 is None:
            t1 = False if t4 is False else None
        else:
            t1 = t4
    if t1 is not True:
        return 2 if t1 is False else None
    t5 = d_axis__inertia_ratio(v_axis)
    t6 = v_axis.get('@s:max_inertia_ratio', 10)
    t7 = None if t5 is None or t6 is None else t5 <= t6
    return None if t7 is None else 1 if t7 else 0

def r_coupling_carries_peak_torque(v_axis, v_machine):
    t1 = d_axis__has_driving_shaft(v_axis)
    if t1 is not True:
        return 2 if t1 is False else None
    t2 = v_axis.get('mechanics.couplings')
    t3 = v_axis.get('mechanics.couplings#partial')
    if t2 is None:
        t4 = None
    else:
        t4 = None if t3 else True
        for v_joint in t2:
            t5 = v_joint.get('rated_torque')
            t6 = d_axis__available_torque(v_axis)
            t7 = v_joint.get('motor_turns_per_turn')
            t8 = None if t6 is None or t7 is None else t6 * t7
            t9 = v_axis.get('@s:coupling_margin', Fraction(6, 5))
            t10 = None if t8 is None or t9 is None else t8 * t9
            t11 = None if t5 is None or t10 is None else t5 >= t10
            if t11 is False:
                t4 = False
                break
            if t11 is None:
                t4 = None
    return None if t4 is None else 1 if t4 else 0

def r_returned_power_within_drive(v_axis, v_machine):
    t3 = d_axis__hangs(v_axis)
    t2 = t3
    if t2 is not False:
        t4 = d_axis__speed_in_wrong_unit(v_axis)
        t5 = None if t4 is None else not t4
        if t2 is None:
            t2 = False if t5 is False else None
        else:
            t2 = t5
    t1 = t2
    if t1 is not False:
        t7 = d_axis__has_driving_shaft(v_axis)
        t8 = None if t7 is None else not t7
        t6 = t8
        if t6 is not True:
            t10 = d_axis__ratios_are_settled(v_axis)
            t9 = t10
            if t9 is not False:
                t11 = v_axis.get('mechanics.efficiency')
                t12 = None if t11 is None else t11 <= 1
                if t9 is None:
                    t9 = False if t12 is False else None
                else:
                    t9 = t12
            if t6 is None:
                t6 = True if t9 is True else None
            else:
                t6 = t9
        if t1 is None:
            t1 = False if t6 is False else None
        else:
            t1 = t6
    if t1 is not True:
        return 2 if t1 is False else None
    t13 = d_axis__returned_power(v_axis)
    t14 = v_axis.get('drive.braking_power')
    t15 = None if t13 is None or t14 is None else t13 <= t14
    return None if t15 is None else 1 if t15 else 0

def r_turn_counts_match(v_axis, v_machine):
    t1 = d_axis__relies_on_turn_counter(v_axis)
    if t1 is not True:
        return 2 if t1 is False else None
    t2 = v_axis.get('drive.distinguishable_revolutions')
    t3 = v_axis.get('encoder.distinguishable_revolutions')
    t4 = None if t2 is None or t3 is None else t2 - t3
    t5 = v_axis.get('drive.distinguishable_revolutions')
    t6 = None if t4 is None or t5 is None else f_nearest_remainder(t4, t5)
    l_lost_turns = t6
    t7 = d_axis__units_per_encoder_rev(v_axis)
    t8 = None if l_lost_turns is None or t7 is None else l_lost_turns * t7
    l_whole_jump = t8
    t10 = v_axis.get('controller.type')
    t11 = None if t10 is None else t10 == 'modulo'
    if t11 is None:
        t12 = None
    elif t11:
        t13 = d_axis__cycle(v_axis)
        t14 = None if l_whole_jump is None or t13 is None else f_nearest_remainder(l_whole_jump, t13)
        t12 = t14
    else:
        t12 = l_whole_jump
    t9 = t12
    if t9 is None and not ('#disputed' in v_axis and disputed(v_axis, ('controller.type', 'motion', 'controller.cycle'))):
        t9 = l_whole_jump
    l_jump = t9
    t16 = None if l_lost_turns is None else eq(l_lost_turns, 0)
    if t16 is None:
        t17 = None
    elif t16:
        t17 = 'so nothing jumps then, but places a range of the drive apart look alike to it'
    else:
        t18 = None if l_lost_turns is None else f_absolute(l_lost_turns)
        t19 = None if l_lost_turns is None or t18 is None else eq(l_lost_turns, t18)
        t20 = d_axis__counts_rise_with_position(v_axis)
        t21 = None if t19 is None or t20 is None else t19 == t20
        if t21 is None:
            t22 = None
        elif t21:
            t22 = 'upwards'
        else:
            t22 = 'downwards'
        t17 = t22
    t15 = t17
    if t15 is None and not ('#disputed' in v_axis and disputed(v_axis, ('encoder.count_direction', 'drive.polarity', 'controller.polarity'))):
        t15 = 'up or down, as the encoder counts'
    l_way = t15
    t23 = v_axis.get('drive.distinguishable_revolutions')
    t24 = v_axis.get('encoder.distinguishable_revolutions')
    t25 = None if t23 is None or t24 is None else eq(t23, t24)
    return None if t25 is None else 1 if t25 else 0

def r_turn_count_within_capability(v_axis, v_machine):
    t2 = d_axis__encoder_is_linear(v_axis)
    t3 = None if t2 is None else not t2
    t1 = t3
    if t1 is not False:
        t4 = v_axis.get('encoder.kind')
        t5 = None if t4 is None else t4 == 'absolute_multiturn'
        if t1 is None:
            t1 = False if t5 is False else None
        else:
            t1 = t5
    if t1 is not True:
        return 2 if t1 is False else None
    t7 = v_axis.get('encoder.distinguishable_revolutions')
    t6 = t7
    if t6 is None and not ('#disputed' in v_axis and disputed(v_axis, ('encoder.distinguishable_revolutions',))):
        t8 = v_axis.get('drive.distinguishable_revolutions')
        t6 = t8
    t9 = v_axis.get('encoder.capability.distinguishable_revolutions')
    t10 = None if t6 is None or t9 is None else t6 <= t9
    return None if t10 is None else 1 if t10 else 0

def r_rollover_divides_cycle(v_axis, v_machine):
    t6 = v_axis.get('controller.type')
    t7 = None if t6 is None else t6 == 'modulo'
    t5 = t7
    if t5 is not False:
        t8 = d_axis__relies_on_turn_counter(v_axis)
        if t5 is None:
            t5 = False if t8 is False else None
        else:
            t5 = t8
    t4 = t5
    if t4 is not False:
        t9 = v_axis.get('controller.wraps_retained')
        t10 = None if t9 is None else not t9
        if t4 is None:
            t4 = False if t10 is False else None
        else:
            t4 = t10
    t3 = t4
    if t3 is not False:
        t11 = d_axis__ratios_are_settled(v_axis)
        if t3 is None:
            t3 = False if t11 is False else None
        else:
            t3 = t11
    t2 = t3
    if t2 is not False:
        t12 = d_axis__cycle_in_mistaken_unit(v_axis)
        t13 = None if t12 is None else not t12
        if t2 is None:
            t2 = False if t13 is False else None
        else:
            t2 = t13
    t1 = t2
    if t1 is not False:
        t14 = d_axis__cycle_never_closes(v_axis)
        t15 = None if t14 is None else not t14
        if t1 is None:
            t1 = False if t15 is False else None
        else:
            t1 = t15
    if t1 is not True:
        return 2 if t1 is False else None
    t16 = v_axis.get('encoder.distinguishable_revolutions')
    t17 = d_axis__units_per_encoder_rev(v_axis)
    t18 = None if t16 is None or t17 is None else t16 * t17
    t19 = d_axis__cycle(v_axis)
    t20 = None if t18 is None or t19 is None else div(t18, t19)
    l_cycles = t20
    t21 = None if l_cycles is None else -l_cycles
    t22 = None if t21 is None else f_nearest_remainder(t21, 1)
    l_shift_per_wrap = t22
    t24 = v_axis.get('encoder.capability.distinguishable_revolutions')
    t23 = t24
    if t23 is None and not ('#disputed' in v_axis and disputed(v_axis, ('encoder.capability.distinguishable_revolutions',))):
        t25 = v_axis.get('encoder.distinguishable_revolutions')
        t23 = t25
    l_able = t23
    t26 = d_axis__turns_that_close_the_cycle(v_axis)
    t27 = None if t26 is None or l_able is None else f_largest_multiple(t26, l_able)
    l_best = t27
    t28 = None if l_best is None else eq(l_best, 0)
    if t28 is None:
        t29 = None
    elif t28:
        t29 = 'No turn count of this encoder will do.'
    else:
        t29 = 'Set encoder and drive alike to it, if the encoder takes it.'
    l_way = t29
    t30 = None if l_cycles is None else is_whole(l_cycles)
    return None if t30 is None else 1 if t30 else 0

def r_endless_axis_with_pi_retains_wraps(v_axis, v_machine):
    t4 = v_axis.get('controller.type')
    t5 = None if t4 is None else t4 == 'modulo'
    t3 = t5
    if t3 is not False:
        t6 = d_axis__relies_on_turn_counter(v_axis)
        if t3 is None:
            t3 = False if t6 is False else None
        else:
            t3 = t6
    t2 = t3
    if t2 is not False:
        t7 = d_axis__ratios_are_settled(v_axis)
        if t2 is None:
            t2 = False if t7 is False else None
        else:
            t2 = t7
    t1 = t2
    if t1 is not False:
        t8 = d_axis__cycle_never_closes(v_axis)
        if t1 is None:
            t1 = False if t8 is False else None
        else:
            t1 = t8
    if t1 is not True:
        return 2 if t1 is False else None
    t9 = d_axis__absolute_range(v_axis)
    t10 = None if t9 is None else -t9
    t11 = d_axis__cycle(v_axis)
    t12 = None if t10 is None or t11 is None else f_nearest_remainder(t10, t11)
    l_shift = t12
    t13 = v_axis.get('controller.wraps_retained')
    return None if t13 is None else 1 if t13 else 0

def r_reading_within_turn_count(v_axis, v_machine):
    t3 = v_axis.get('encoder.kind')
    t4 = None if t3 is None else t3 == 'absolute_multiturn'
    t2 = t4
    if t2 is not False:
        t5 = d_axis__encoder_is_linear(v_axis)
        t6 = None if t5 is None else not t5
        if t2 is None:
            t2 = False if t6 is False else None
        else:
            t2 = t6
    t1 = t2
    if t1 is not False:
        t8 = v_axis.get('encoder.turn_counter.reading_at_reference')
        t9 = None if t8 is None else t8 >= 0
        t7 = t9
        if t7 is None and not ('#disputed' in v_axis and disputed(v_axis, ('encoder.turn_counter.reading_at_reference',))):
            t7 = False
        if t1 is None:
            t1 = False if t7 is False else None
        else:
            t1 = t7
    if t1 is not True:
        return 2 if t1 is False else None
    t10 = v_axis.get('encoder.turn_counter.reading_at_reference')
    t11 = v_axis.get('encoder.distinguishable_revolutions')
    t12 = None if t10 is None or t11 is None else t10 < t11
    return None if t12 is None else 1 if t12 else 0

def r_angle_within_turn(v_axis, v_machine):
    t2 = v_axis.get('encoder.angle_at_reference')
    t3 = None if t2 is None else t2 >= 0
    t1 = t3
    if t1 is None and not ('#disputed' in v_axis and disputed(v_axis, ('encoder.angle_at_reference',))):
        t1 = False
    if t1 is not True:
        return 2 if t1 is False else None
    t4 = v_axis.get('encoder.angle_at_reference')
    t5 = None if t4 is None else t4 < 1
    return None if t5 is None else 1 if t5 else 0

def r_linear_encoder_covers_travel(v_axis, v_machine):
    t5 = d_axis__encoder_is_linear(v_axis)
    t4 = t5
    if t4 is not False:
        t6 = v_axis.get('motion')
        t7 = None if t6 is None else t6 == 'linear'
        if t4 is None:
            t4 = False if t7 is False else None
        else:
            t4 = t7
    t3 = t4
    if t3 is not False:
        t8 = v_axis.get('encoder.kind')
        t9 = None if t8 is None else t8 == 'incremental'
        t10 = None if t9 is None else not t9
        if t3 is None:
            t3 = False if t10 is False else None
        else:
            t3 = t10
    t2 = t3
    if t2 is not False:
        t11 = v_axis.get('controller.type')
        t12 = None if t11 is None else t11 == 'linear'
        if t2 is None:
            t2 = False if t12 is False else None
        else:
            t2 = t12
    t1 = t2
    if t1 is not False:
        t13 = v_axis.get('mechanics.travel')
        t14 = None if t13 is None else t13 is NONE
        t15 = None if t14 is None else not t14
        if t1 is None:
            t1 = False if t15 is False else None
        else:
            t1 = t15
    if t1 is not True:
        return 2 if t1 is False else None
    t16 = v_axis.get('encoder.total_range')
    t17 = v_axis.get('encoder.measuring_step')
    t18 = None if t16 is None or t17 is None else t16 * t17
    t19 = None if t18 is None else div(t18, 1)
    l_scale = t19
    t20 = v_axis.get('mechanics.travel.max')
    t21 = v_axis.get('mechanics.travel.min')
    t22 = None if t20 is None or t21 is None else t20 - t21
    t23 = None if t22 is None or l_scale is None else t22 <= l_scale
    return None if t23 is None else 1 if t23 else 0

def r_turn_range_covers_travel(v_axis, v_machine):
    t4 = d_axis__relies_on_turn_counter(v_axis)
    t3 = t4
    if t3 is not False:
        t5 = v_axis.get('controller.type')
        t6 = None if t5 is None else t5 == 'linear'
        if t3 is None:
            t3 = False if t6 is False else None
        else:
            t3 = t6
    t2 = t3
    if t2 is not False:
        t7 = d_axis__wraps_are_retained(v_axis)
        t8 = None if t7 is None else not t7
        if t2 is None:
            t2 = False if t8 is False else None
        else:
            t2 = t8
    t1 = t2
    if t1 is not False:
        t9 = d_axis__has_ends(v_axis)
        if t1 is None:
            t1 = False if t9 is False else None
        else:
            t1 = t9
    if t1 is not True:
        return 2 if t1 is False else None
    t10 = d_axis__range_to_have(v_axis)
    t11 = d_axis__units_per_encoder_rev(v_axis)
    t12 = None if t10 is None or t11 is None else div(t10, t11)
    t13 = None if t12 is None else f_smallest_multiple(1, t12)
    l_enough_turns = t13
    t14 = d_axis__range_to_have(v_axis)
    t15 = d_axis__absolute_turns(v_axis)
    t16 = d_axis__units_per_encoder_rev(v_axis)
    t17 = None if t15 is None or t16 is None else t15 * t16
    t18 = None if t14 is None or t17 is None else t14 <= t17
    return None if t18 is None else 1 if t18 else 0

def r_wrap_outside_travel(v_axis, v_machine):
    t8 = d_axis__encoder_is_linear(v_axis)
    t9 = None if t8 is None else not t8
    t7 = t9
    if t7 is not False:
        t10 = v_axis.get('controller.type')
        t11 = None if t10 is None else t10 == 'linear'
        if t7 is None:
            t7 = False if t11 is False else None
        else:
            t7 = t11
    t6 = t7
    if t6 is not False:
        t12 = d_axis__forgets_position(v_axis)
        t13 = None if t12 is None else not t12
        if t6 is None:
            t6 = False if t13 is False else None
        else:
            t6 = t13
    t5 = t6
    if t5 is not False:
        t14 = d_axis__wraps_are_retained(v_axis)
        t15 = None if t14 is None else not t14
        if t5 is None:
            t5 = False if t15 is False else None
        else:
            t5 = t15
    t4 = t5
    if t4 is not False:
        t16 = d_axis__has_ends(v_axis)
        if t4 is None:
            t4 = False if t16 is False else None
        else:
            t4 = t16
    t3 = t4
    if t3 is not False:
        t17 = v_axis.get('controller.homing')
        t18 = None if t17 is None else t17 is NONE
        t19 = None if t18 is None else not t18
        if t3 is None:
            t3 = False if t19 is False else None
        else:
            t3 = t19
    t2 = t3
    if t2 is not False:
        t20 = d_axis__reading_is_possible(v_axis)
        if t2 is None:
            t2 = False if t20 is False else None
        else:
            t2 = t20
    t1 = t2
    if t1 is not False:
        t21 = d_axis__range_to_have(v_axis)
        t22 = d_axis__absolute_range(v_axis)
        t23 = None if t21 is None or t22 is None else t21 <= t22
        if t1 is None:
            t1 = False if t23 is False else None
        else:
            t1 = t23
    if t1 is not True:
        return 2 if t1 is False else None
    t28 = d_axis__lowest_end(v_axis)
    t29 = d_axis__furthest_lower_wrap(v_axis)
    t30 = None if t28 is None or t29 is None else t28 > t29
    t27 = t30
    if t27 is not True:
        t31 = v_axis.get('controller.unfolding')
        t32 = None if t31 is None else t31 == 'from_reference'
        if t27 is None:
            t27 = True if t32 is True else None
        else:
            t27 = t32
    t26 = t27
    if t26 is not False:
        t33 = d_axis__highest_end(v_axis)
        t34 = d_axis__furthest_upper_wrap(v_axis)
        t35 = None if t33 is None or t34 is None else t33 < t34
        if t26 is None:
            t26 = False if t35 is False else None
        else:
            t26 = t35
    t25 = t26
    if t25 is not False:
        t37 = d_axis__lowest_end(v_axis)
        t38 = d_axis__lower_wrap(v_axis)
        t39 = None if t37 is None or t38 is None else t37 >= t38
        t36 = t39
        if t36 is not True:
            t40 = d_axis__lowest_end(v_axis)
            t41 = d_axis__exact_lower_wrap(v_axis)
            t42 = None if t40 is None or t41 is None else t40 > t41
            if t36 is None:
                t36 = True if t42 is True else None
            else:
                t36 = t42
        if t25 is None:
            t25 = False if t36 is False else None
        else:
            t25 = t36
    t24 = t25
    if t24 is not False:
        t44 = d_axis__highest_end(v_axis)
        t45 = d_axis__upper_wrap(v_axis)
        t46 = None if t44 is None or t45 is None else t44 <= t45
        t43 = t46
        if t43 is not True:
            t47 = d_axis__highest_end(v_axis)
            t48 = d_axis__exact_upper_wrap(v_axis)
            t49 = None if t47 is None or t48 is None else t47 < t48
            if t43 is None:
                t43 = True if t49 is True else None
            else:
                t43 = t49
        if t24 is None:
            t24 = False if t43 is False else None
        else:
            t24 = t43
    return None if t24 is None else 1 if t24 else 0

def r_unfolding_agrees_with_wraps_retained(v_axis, v_machine):
    t1 = d_axis__relies_on_turn_counter(v_axis)
    if t1 is not True:
        return 2 if t1 is False else None
    t2 = v_axis.get('controller.unfolding')
    t3 = None if t2 is None else t2 == 'tracked'
    l_tracked = t3
    t5 = v_axis.get('controller.wraps_retained')
    t4 = t5
    if t4 is None and not ('#disputed' in v_axis and disputed(v_axis, ('controller.wraps_retained',))):
        t4 = l_tracked
    t6 = l_tracked
    if t6 is None:
        t7 = v_axis.get('controller.wraps_retained')
        t6 = t7
    t8 = None if t4 is None or t6 is None else t4 == t6
    return None if t8 is None else 1 if t8 else 0

def r_endless_axis_counts_in_cycles(v_axis, v_machine):
    t2 = v_axis.get('mechanics.travel')
    t3 = None if t2 is None else t2 is NONE
    t1 = t3
    if t1 is not False:
        t4 = d_axis__position_matters(v_axis)
        if t1 is None:
            t1 = False if t4 is False else None
        else:
            t1 = t4
    if t1 is not True:
        return 2 if t1 is False else None
    t7 = v_axis.get('controller.type')
    t8 = None if t7 is None else t7 == 'modulo'
    t6 = t8
    if t6 is not True:
        t9 = v_axis.get('mechanics.limit_switches')
        t10 = None if t9 is None else t9 is NONE
        t11 = None if t10 is None else not t10
        if t6 is None:
            t6 = True if t11 is True else None
        else:
            t6 = t11
    t5 = t6
    if t5 is not True:
        t12 = v_axis.get('controller.software_limits')
        t13 = None if t12 is None else t12 is NONE
        t14 = None if t13 is None else not t13
        if t5 is None:
            t5 = True if t14 is True else None
        else:
            t5 = t14
    return None if t5 is None else 1 if t5 else 0

def r_position_of_no_matter_bounds_nothing(v_axis, v_machine):
    t1 = d_axis__position_matters(v_axis)
    t2 = None if t1 is None else not t1
    if t2 is not True:
        return 2 if t2 is False else None
    t3 = v_axis.get('mechanics.travel')
    t4 = None if t3 is None else t3 is NONE
    t5 = None if t4 is None else not t4
    if t5 is None:
        t6 = None
    elif t5:
        t6 = 'ends of its travel'
    else:
        t7 = v_axis.get('controller.software_limits')
        t8 = None if t7 is None else t7 is NONE
        t9 = None if t8 is None else not t8
        if t9 is None:
            t10 = None
        elif t9:
            t10 = 'software limits'
        else:
            t11 = v_axis.get('controller.homing')
            t12 = None if t11 is None else t11 is NONE
            t13 = None if t12 is None else not t12
            if t13 is None:
                t14 = None
            elif t13:
                t14 = 'a homing method'
            else:
                t14 = 'a gantry partner'
            t10 = t14
        t6 = t10
    l_what = t6
    t18 = v_axis.get('mechanics.travel')
    t19 = None if t18 is None else t18 is NONE
    t17 = t19
    if t17 is not False:
        t20 = v_axis.get('controller.software_limits')
        t21 = None if t20 is None else t20 is NONE
        if t17 is None:
            t17 = False if t21 is False else None
        else:
            t17 = t21
    t16 = t17
    if t16 is not False:
        t22 = v_axis.get('controller.homing')
        t23 = None if t22 is None else t22 is NONE
        if t16 is None:
            t16 = False if t23 is False else None
        else:
            t16 = t23
    t15 = t16
    if t15 is not False:
        t24 = v_axis.get('gantry')
        t25 = None if t24 is None else t24 is NONE
        if t15 is None:
            t15 = False if t25 is False else None
        else:
            t15 = t25
    return None if t15 is None else 1 if t15 else 0

def r_power_off_motion_under_half_range(v_axis, v_machine):
    t3 = d_axis__encoder_is_linear(v_axis)
    t4 = None if t3 is None else not t3
    t2 = t4
    if t2 is not False:
        t5 = d_axis__forgets_position(v_axis)
        t6 = None if t5 is None else not t5
        if t2 is None:
            t2 = False if t6 is False else None
        else:
            t2 = t6
    t1 = t2
    if t1 is not False:
        t7 = d_axis__wraps_are_retained(v_axis)
        if t1 is None:
            t1 = False if t7 is False else None
        else:
            t1 = t7
    if t1 is not True:
        return 2 if t1 is False else None
    t8 = v_axis.get('controller.power_off_motion')
    t9 = d_axis__absolute_turns(v_axis)
    t10 = d_axis__units_per_encoder_rev(v_axis)
    t11 = None if t9 is None or t10 is None else t9 * t10
    t12 = None if t11 is None else div(t11, 2)
    t13 = None if t8 is None or t12 is None else t8 < t12
    return None if t13 is None else 1 if t13 else 0

def r_position_register_holds_range(v_axis, v_machine):
    t1 = d_axis__relies_on_turn_counter(v_axis)
    if t1 is not True:
        return 2 if t1 is False else None
    t2 = v_axis.get('drive.position_register.bits')
    t3 = None if t2 is None else f_power_of_two(t2)
    t4 = d_axis__positions_to_hold(v_axis)
    t5 = None if t3 is None or t4 is None else t3 >= t4
    return None if t5 is None else 1 if t5 else 0

def r_position_register_holds_travel(v_axis, v_machine):
    t3 = v_axis.get('controller.type')
    t4 = None if t3 is None else t3 == 'linear'
    t2 = t4
    if t2 is not False:
        t5 = d_axis__ends_are_known(v_axis)
        if t2 is None:
            t2 = False if t5 is False else None
        else:
            t2 = t5
    t1 = t2
    if t1 is not False:
        t7 = d_axis__relies_on_turn_counter(v_axis)
        t8 = None if t7 is None else not t7
        t6 = t8
        if t6 is not True:
            t9 = v_axis.get('drive.position_register.bits')
            t10 = None if t9 is None else f_power_of_two(t9)
            t11 = d_axis__positions_to_hold(v_axis)
            t12 = None if t10 is None or t11 is None else t10 >= t11
            if t6 is None:
                t6 = True if t12 is True else None
            else:
                t6 = t12
        if t1 is None:
            t1 = False if t6 is False else None
        else:
            t1 = t6
    if t1 is not True:
        return 2 if t1 is False else None
    t14 = v_axis.get('drive.position_register.signed')
    if t14 is None:
        t15 = None
    elif t14:
        t15 = 'with sign'
    else:
        t15 = 'without sign'
    t13 = t15
    if t13 is None and not ('#disputed' in v_axis and disputed(v_axis, ('drive.position_register.signed',))):
        t13 = 'with or without sign'
    l_sign = t13
    t18 = d_axis__lowest_count(v_axis)
    t19 = None if t18 is None else t18 >= 0
    t17 = t19
    if t17 is not True:
        t21 = v_axis.get('drive.position_register.signed')
        t20 = t21
        if t20 is not False:
            t22 = d_axis__lowest_count(v_axis)
            t23 = v_axis.get('drive.position_register.bits')
            t24 = None if t23 is None else t23 - 1
            t25 = None if t24 is None else f_power_of_two(t24)
            t26 = None if t25 is None else -t25
            t27 = None if t22 is None or t26 is None else t22 >= t26
            if t20 is None:
                t20 = False if t27 is False else None
            else:
                t20 = t27
        if t17 is None:
            t17 = True if t20 is True else None
        else:
            t17 = t20
    t16 = t17
    if t16 is not False:
        t29 = d_axis__highest_count(v_axis)
        t30 = v_axis.get('drive.position_register.bits')
        t31 = None if t30 is None else t30 - 1
        t32 = None if t31 is None else f_power_of_two(t31)
        t33 = None if t32 is None else t32 - 1
        t34 = None if t29 is None or t33 is None else t29 <= t33
        t28 = t34
        if t28 is not True:
            t36 = v_axis.get('drive.position_register.signed')
            t37 = None if t36 is None else not t36
            t35 = t37
            if t35 is not False:
                t38 = d_axis__highest_count(v_axis)
                t39 = v_axis.get('drive.position_register.bits')
                t40 = None if t39 is None else f_power_of_two(t39)
                t41 = None if t40 is None else t40 - 1
                t42 = None if t38 is None or t41 is None else t38 <= t41
                if t35 is None:
                    t35 = False if t42 is False else None
                else:
                    t35 = t42
            if t28 is None:
                t28 = True if t35 is True else None
            else:
                t28 = t35
        if t16 is None:
            t16 = False if t28 is False else None
        else:
            t16 = t28
    return None if t16 is None else 1 if t16 else 0

def r_quadrature_factor_used_once(v_axis, v_machine):
    t2 = v_axis.get('encoder.form')
    t3 = None if t2 is None else t2 == 'rotary'
    t1 = t3
    if t1 is not False:
        t4 = v_axis.get('encoder.kind')
        t5 = None if t4 is None else t4 == 'incremental'
        if t1 is None:
            t1 = False if t5 is False else None
        else:
            t1 = t5
    if t1 is not True:
        return 2 if t1 is False else None
    t6 = d_axis__quadrature_slip(v_axis)
    t7 = None if t6 is None else not t6
    return None if t7 is None else 1 if t7 else 0

def r_controller_scaling_without_slip(v_axis, v_machine):
    t1 = d_axis__ratios_are_settled(v_axis)
    if t1 is not True:
        return 2 if t1 is False else None
    t2 = d_axis__scaling_is_gross(v_axis)
    t3 = None if t2 is None else not t2
    return None if t3 is None else 1 if t3 else 0

def r_drive_gear_not_upside_down(v_axis, v_machine):
    t2 = v_axis.get('drive.gear')
    t3 = None if t2 is None else t2 is NONE
    t4 = None if t3 is None else not t3
    t1 = t4
    if t1 is not False:
        t5 = d_axis__ratios_are_settled(v_axis)
        if t1 is None:
            t1 = False if t5 is False else None
        else:
            t1 = t5
    if t1 is not True:
        return 2 if t1 is False else None
    t6 = d_axis__gear_upside_down(v_axis)
    t7 = None if t6 is None else not t6
    return None if t7 is None else 1 if t7 else 0

def r_drive_gear_ratio_not_upside_down(v_axis, v_machine):
    t2 = d_axis__has_driving_shaft(v_axis)
    t1 = t2
    if t1 is not False:
        t3 = d_axis__ratios_are_settled(v_axis)
        if t1 is None:
            t1 = False if t3 is False else None
        else:
            t1 = t3
    if t1 is not True:
        return 2 if t1 is False else None
    t4 = d_axis__drive_ratio_upside_down(v_axis)
    t5 = None if t4 is None else not t4
    return None if t5 is None else 1 if t5 else 0

def r_controller_unit_fits_motion(v_axis, v_machine):
    t1 = v_axis.get('controller.units')
    t2 = None if t1 is None else t1 in ('deg', 'rev', 'rad', 'arcmin', 'arcsec',)
    t3 = v_axis.get('motion')
    t4 = None if t3 is None else t3 == 'rotary'
    t5 = None if t2 is None or t4 is None else t2 == t4
    return None if t5 is None else 1 if t5 else 0

def r_hard_stops_in_order(v_axis, v_machine):
    t2 = v_axis.get('controller.type')
    t3 = None if t2 is None else t2 == 'linear'
    t1 = t3
    if t1 is not False:
        t4 = v_axis.get('mechanics.travel')
        t5 = None if t4 is None else t4 is NONE
        t6 = None if t5 is None else not t5
        if t1 is None:
            t1 = False if t6 is False else None
        else:
            t1 = t6
    if t1 is not True:
        return 2 if t1 is False else None
    t7 = v_axis.get('mechanics.travel.min')
    t8 = v_axis.get('mechanics.travel.max')
    t9 = None if t7 is None or t8 is None else t7 < t8
    return None if t9 is None else 1 if t9 else 0

def r_software_limits_in_order(v_axis, v_machine):
    t2 = v_axis.get('controller.type')
    t3 = None if t2 is None else t2 == 'linear'
    t1 = t3
    if t1 is not False:
        t4 = v_axis.get('controller.software_limits')
        t5 = None if t4 is None else t4 is NONE
        t6 = None if t5 is None else not t5
        if t1 is None:
            t1 = False if t6 is False else None
        else:
            t1 = t6
    if t1 is not True:
        return 2 if t1 is False else None
    t7 = v_axis.get('controller.software_limits.min')
    t8 = v_axis.get('controller.software_limits.max')
    t9 = None if t7 is None or t8 is None else t7 < t8
    return None if t9 is None else 1 if t9 else 0

def r_total_range_is_whole_turns(v_axis, v_machine):
    t2 = v_axis.get('encoder.kind')
    t3 = None if t2 is None else t2 == 'absolute_multiturn'
    t1 = t3
    if t1 is not False:
        t4 = v_axis.get('encoder.form')
        t5 = None if t4 is None else t4 == 'rotary'
        if t1 is None:
            t1 = False if t5 is False else None
        else:
            t1 = t5
    if t1 is not True:
        return 2 if t1 is False else None
    t7 = v_axis.get('encoder.total_range')
    t6 = t7
    if t6 is None and not ('#disputed' in v_axis and disputed(v_axis, ('encoder.total_range',))):
        t8 = d_axis__encoder_counts_per_revolution(v_axis)
        t9 = v_axis.get('encoder.distinguishable_revolutions')
        t10 = None if t8 is None or t9 is None else t8 * t9
        t6 = t10
    t11 = d_axis__encoder_counts_per_revolution(v_axis)
    t12 = None if t6 is None or t11 is None else div(t6, t11)
    l_turns = t12
    t14 = None if l_turns is None else is_whole(l_turns)
    t13 = t14
    if t13 is not False:
        t15 = v_axis.get('encoder.distinguishable_revolutions')
        t16 = None if l_turns is None or t15 is None else eq(l_turns, t15)
        if t13 is None:
            t13 = False if t16 is False else None
        else:
            t13 = t16
    return None if t13 is None else 1 if t13 else 0

def r_cycle_not_turns_for_degrees(v_axis, v_machine):
    t2 = v_axis.get('controller.type')
    t3 = None if t2 is None else t2 == 'modulo'
    t1 = t3
    if t1 is not False:
        t4 = v_axis.get('motion')
        t5 = None if t4 is None else t4 == 'rotary'
        if t1 is None:
            t1 = False if t5 is False else None
        else:
            t1 = t5
    if t1 is not True:
        return 2 if t1 is False else None
    t6 = d_axis__cycle_in_mistaken_unit(v_axis)
    t7 = None if t6 is None else not t6
    return None if t7 is None else 1 if t7 else 0

def r_position_range_spans_cycle(v_axis, v_machine):
    t4 = v_axis.get('controller.type')
    t5 = None if t4 is None else t4 == 'modulo'
    t3 = t5
    if t3 is not False:
        t6 = v_axis.get('drive.position_range')
        t7 = None if t6 is None else t6 is NONE
        t8 = None if t7 is None else not t7
        if t3 is None:
            t3 = False if t8 is False else None
        else:
            t3 = t8
    t2 = t3
    if t2 is not False:
        t9 = d_axis__ratios_are_settled(v_axis)
        if t2 is None:
            t2 = False if t9 is False else None
        else:
            t2 = t9
    t1 = t2
    if t1 is not False:
        t10 = d_axis__cycle_in_mistaken_unit(v_axis)
        t11 = None if t10 is None else not t10
        if t1 is None:
            t1 = False if t11 is False else None
        else:
            t1 = t11
    if t1 is not True:
        return 2 if t1 is False else None
    t12 = v_axis.get('drive.position_range.max')
    t13 = v_axis.get('drive.position_range.min')
    t14 = None if t12 is None or t13 is None else t12 - t13
    l_range = t14
    t15 = d_axis__controller_counts_per_unit_due(v_axis)
    t16 = d_axis__cycle(v_axis)
    t17 = None if t15 is None or t16 is None else t15 * t16
    l_due = t17
    t19 = None if l_range is None or l_due is None else eq(l_range, l_due)
    t18 = t19
    if t18 is not True:
        t20 = None if l_range is None else l_range + 1
        t21 = None if t20 is None or l_due is None else eq(t20, l_due)
        if t18 is None:
            t18 = True if t21 is True else None
        else:
            t18 = t21
    return None if t18 is None else 1 if t18 else 0

def r_position_range_holds_travel(v_axis, v_machine):
    t6 = v_axis.get('controller.type')
    t7 = None if t6 is None else t6 == 'linear'
    t5 = t7
    if t5 is not False:
        t8 = d_axis__stops_in_order(v_axis)
        if t5 is None:
            t5 = False if t8 is False else None
        else:
            t5 = t8
    t4 = t5
    if t4 is not False:
        t9 = v_axis.get('mechanics.travel')
        t10 = None if t9 is None else t9 is NONE
        t11 = None if t10 is None else not t10
        if t4 is None:
            t4 = False if t11 is False else None
        else:
            t4 = t11
    t3 = t4
    if t3 is not False:
        t13 = v_axis.get('drive.position_range')
        t14 = None if t13 is None else t13 is NONE
        t15 = None if t14 is None else not t14
        t12 = t15
        if t12 is None and not ('#disputed' in v_axis and disputed(v_axis, ('drive.position_range',))):
            t12 = False
        if t3 is None:
            t3 = False if t12 is False else None
        else:
            t3 = t12
    t2 = t3
    if t2 is not False:
        t17 = v_axis.get('drive.position_range.min')
        t18 = None if t17 is None else eq(t17, 0)
        t16 = t18
        if t16 is not False:
            t19 = v_axis.get('drive.position_range.max')
            t20 = None if t19 is None else eq(t19, 0)
            if t16 is None:
                t16 = False if t20 is False else None
            else:
                t16 = t20
        t21 = None if t16 is None else not t16
        if t2 is None:
            t2 = False if t21 is False else None
        else:
            t2 = t21
    t1 = t2
    if t1 is not False:
        t22 = d_axis__ratios_are_settled(v_axis)
        if t1 is None:
            t1 = False if t22 is False else None
        else:
            t1 = t22
    if t1 is not True:
        return 2 if t1 is False else None
    t23 = d_axis__controller_counts_per_unit_due(v_axis)
    t24 = v_axis.get('controller.polarity')
    t25 = None if t24 is None else t24 == 'normal'
    if t25 is None:
        t26 = None
    elif t25:
        t27 = v_axis.get('mechanics.travel.min')
        t26 = t27
    else:
        t28 = v_axis.get('mechanics.travel.max')
        t29 = None if t28 is None else -t28
        t26 = t29
    t30 = None if t23 is None or t26 is None else t23 * t26
    l_lowest = t30
    t31 = d_axis__controller_counts_per_unit_due(v_axis)
    t32 = v_axis.get('controller.polarity')
    t33 = None if t32 is None else t32 == 'normal'
    if t33 is None:
        t34 = None
    elif t33:
        t35 = v_axis.get('mechanics.travel.max')
        t34 = t35
    else:
        t36 = v_axis.get('mechanics.travel.min')
        t37 = None if t36 is None else -t36
        t34 = t37
    t38 = None if t31 is None or t34 is None else t31 * t34
    l_highest = t38
    t42 = v_axis.get('storage.offset')
    t43 = None if t42 is None else t42 == 'controller'
    t41 = t43
    if t41 is not True:
        t44 = v_axis.get('drive.position_range.min')
        t45 = None if l_lowest is None or t44 is None else l_lowest >= t44
        if t41 is None:
            t41 = True if t45 is True else None
        else:
            t41 = t45
    t40 = t41
    if t40 is not False:
        t47 = v_axis.get('storage.offset')
        t48 = None if t47 is None else t47 == 'controller'
        t46 = t48
        if t46 is not True:
            t49 = v_axis.get('drive.position_range.max')
            t50 = None if l_highest is None or t49 is None else l_highest <= t49
            if t46 is None:
                t46 = True if t50 is True else None
            else:
                t46 = t50
        if t40 is None:
            t40 = False if t46 is False else None
        else:
            t40 = t46
    t39 = t40
    if t39 is not False:
        t51 = None if l_highest is None or l_lowest is None else l_highest - l_lowest
        t52 = v_axis.get('drive.position_range.max')
        t53 = v_axis.get('drive.position_range.min')
        t54 = None if t52 is None or t53 is None else t52 - t53
        t55 = None if t51 is None or t54 is None else t51 <= t54
        if t39 is None:
            t39 = False if t55 is False else None
        else:
            t39 = t55
    return None if t39 is None else 1 if t39 else 0

def r_command_rate_within_drive(v_axis, v_machine):
    t2 = v_axis.get('drive.gear')
    t3 = None if t2 is None else t2 is NONE
    t4 = None if t3 is None else not t3
    t1 = t4
    if t1 is not False:
        t5 = v_axis.get('drive.command_frequency_limit')
        t6 = None if t5 is None else t5 is NONE
        t7 = None if t6 is None else not t6
        if t1 is None:
            t1 = False if t7 is False else None
        else:
            t1 = t7
    if t1 is not True:
        return 2 if t1 is False else None
    t8 = v_axis.get('controller.max_velocity')
    t9 = v_axis.get('drive.gear.command_increment')
    t10 = None if t8 is None or t9 is None else div(t8, t9)
    t11 = None if t10 is None else t10 * 1
    l_rate = t11
    t12 = v_axis.get('drive.command_frequency_limit')
    if t12 is NONE:
        t12 = None
    t13 = None if l_rate is None or t12 is None else l_rate <= t12
    return None if t13 is None else 1 if t13 else 0

def r_controller_register_holds_range(v_axis, v_machine):
    t1 = d_axis__relies_on_turn_counter(v_axis)
    if t1 is not True:
        return 2 if t1 is False else None
    t2 = v_axis.get('controller.position_register.bits')
    t3 = None if t2 is None else f_power_of_two(t2)
    t4 = d_axis__controller_positions_to_hold(v_axis)
    t5 = None if t3 is None or t4 is None else t3 >= t4
    return None if t5 is None else 1 if t5 else 0

def r_controller_register_holds_travel(v_axis, v_machine):
    t3 = v_axis.get('controller.type')
    t4 = None if t3 is None else t3 == 'linear'
    t2 = t4
    if t2 is not False:
        t5 = d_axis__ends_are_known(v_axis)
        if t2 is None:
            t2 = False if t5 is False else None
        else:
            t2 = t5
    t1 = t2
    if t1 is not False:
        t7 = d_axis__relies_on_turn_counter(v_axis)
        t8 = None if t7 is None else not t7
        t6 = t8
        if t6 is not True:
            t9 = v_axis.get('controller.position_register.bits')
            t10 = None if t9 is None else f_power_of_two(t9)
            t11 = d_axis__controller_positions_to_hold(v_axis)
            t12 = None if t10 is None or t11 is None else t10 >= t11
            if t6 is None:
                t6 = True if t12 is True else None
            else:
                t6 = t12
        if t1 is None:
            t1 = False if t6 is False else None
        else:
            t1 = t6
    if t1 is not True:
        return 2 if t1 is False else None
    t13 = d_axis__lowest_place(v_axis)
    t14 = d_axis__controller_counts_per_unit_due(v_axis)
    t15 = None if t13 is None or t14 is None else t13 * t14
    t16 = None if t15 is None else div(t15, 1)
    l_lowest = t16
    t17 = d_axis__highest_place(v_axis)
    t18 = d_axis__controller_counts_per_unit_due(v_axis)
    t19 = None if t17 is None or t18 is None else t17 * t18
    t20 = None if t19 is None else div(t19, 1)
    l_highest = t20
    t22 = v_axis.get('controller.position_register.signed')
    if t22 is None:
        t23 = None
    elif t22:
        t23 = 'with sign'
    else:
        t23 = 'without sign'
    t21 = t23
    if t21 is None and not ('#disputed' in v_axis and disputed(v_axis, ('controller.position_register.signed',))):
        t21 = 'with or without sign'
    l_sign = t21
    t26 = None if l_lowest is None else l_lowest >= 0
    t25 = t26
    if t25 is not True:
        t28 = v_axis.get('controller.position_register.signed')
        t27 = t28
        if t27 is not False:
            t29 = v_axis.get('controller.position_register.bits')
            t30 = None if t29 is None else t29 - 1
            t31 = None if t30 is None else f_power_of_two(t30)
            t32 = None if t31 is None else -t31
            t33 = None if l_lowest is None or t32 is None else l_lowest >= t32
            if t27 is None:
                t27 = False if t33 is False else None
            else:
                t27 = t33
        if t25 is None:
            t25 = True if t27 is True else None
        else:
            t25 = t27
    t24 = t25
    if t24 is not False:
        t35 = v_axis.get('controller.position_register.bits')
        t36 = None if t35 is None else t35 - 1
        t37 = None if t36 is None else f_power_of_two(t36)
        t38 = None if t37 is None else t37 - 1
        t39 = None if l_highest is None or t38 is None else l_highest <= t38
        t34 = t39
        if t34 is not True:
            t41 = v_axis.get('controller.position_register.signed')
            t42 = None if t41 is None else not t41
            t40 = t42
            if t40 is not False:
                t43 = v_axis.get('controller.position_register.bits')
                t44 = None if t43 is None else f_power_of_two(t43)
                t45 = None if t44 is None else t44 - 1
                t46 = None if l_highest is None or t45 is None else l_highest <= t45
                if t40 is None:
                    t40 = False if t46 is False else None
                else:
                    t40 = t46
            if t34 is None:
                t34 = True if t40 is True else None
            else:
                t34 = t40
        if t24 is None:
            t24 = False if t34 is False else None
        else:
            t24 = t34
    return None if t24 is None else 1 if t24 else 0
