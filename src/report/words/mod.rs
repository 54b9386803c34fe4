//! Sentences, each written once, with their quantities in the units in use.

mod adjusted;
mod cut;
mod cutting;
mod entry;
mod figures;
mod flags;
mod floor;
mod holds;
mod levels;
mod lists;
mod many;
mod paper;
mod places;
mod reader;
mod reconcile;
mod record;
mod said;
mod scene;
mod screens;
mod seat;
mod second_ways;
mod sources;
mod standing;
mod things;
mod verdicts;

pub use adjusted::{
    BY_ALL_READINGS, BY_INCLINATION, KNOWN_BY_ALL_READINGS, SEE_LEVELS, elevations_are,
    elevations_by, elevations_used, rotary_as_stated, stated_rotary,
};
pub use cut::{
    clearance_word, cut_state, head_flags, lift_word, marks_to_set_out, no_marks, not_independent,
    offcut_mass,
};
pub use cutting::{
    BLADE, FINISHED_TOP_LARGE, LOWER_PLANE, NO_DERIVATION, NOT_ON_STRING, TARGET_LARGE,
    TARGET_PLANNED, UPPER_PLANE, above_datum, group_rests_on, joint_drawn, mark_number,
    marks_not_drawn, off_target, reading_number,
};
pub use entry::{
    AGAIN, CONFIRM, HIDDEN, MEASURED_BY, NO_ENTRIES, compares, doubt, echo, entry, field_label,
    fill, group_label, hook_load, misclosure as misclosure_on_floor, next_joint, next_lift,
    not_slacked_off, run_otherwise, struck_by,
};
pub use figures::{accessory_name, change, figure_name, plain_name};
pub use flags::flag;
pub use floor::{
    ALL_RUN, COMING, COUNT_NOT_KNOWN, ENTERED_LAST, ITS_SERIAL, NOTHING_TO_FIT, OLD_FLOOR,
    SHOE_AS_IT_HANGS, SHOE_AS_LANDED, STICK_UP_AT_LANDING, STICK_UP_READ, STRING_SO_FAR,
    as_planned, fit, from_rt, hull_is_at, hull_is_moving, its_length, joints_run,
    next_and_its_length, next_is, shoe_depth, still_to_lower, still_to_lower_as_it_hangs,
};
pub use holds::{
    ALL_PASSED, BY_PEN, CHANGED, NO_KEY_FILE, NO_ROLES, NONE_FALLEN, NOTHING_READY, NOTHING_SIGNED,
    ON_PAPER, READ_ON, SIGN_BY_KEY, SIGN_ON_PAPER, TAIL, blade, fallen, fallen_of, hold, invalid,
    key_file, key_of_another, left_out, lift, listed, missing, next_hold_is, not_claimed,
    not_signed, passphrase_of, pen_line, signed, signs, signs_as, stands_no_more, to_sign,
    unknown_key, what_became_of,
};
pub use levels::{
    PLUS_MINUS, WITH_SUSPECT, correction, idle_correction, network_counts, network_verdict,
    not_adjusted, others_briefly, point, point_u, reading_of, reading_said, reading_steps,
    reading_verdict, readings_at, readings_to_spare, tape_found, together, untied_entry,
    wires_left_out, wires_legend,
};
pub use lists::effects;
pub use many::{
    MEASURED_AGAIN, ONE_LIST, THIS_RECORD, above, choices, contradicting, list_not_read, list_row,
    made_of_lists, no_record, numbers_apart, presence, rows_agree, serials_apart, stands,
    values_from, why, with_reasons, without_joint,
};
pub use paper::{
    CANNOT_TELL, CLOSES, READING_AT, SINGLES_FIT, after_new, by_chance, clearances_on_paper,
    keys_not_used, made_of, marks_must_agree, misclosure, not_decided, pairs_by_chance, pairs_fit,
    planes_elsewhere, rotary_line, spread, target_of,
};
pub use places::{
    counted_from, direction, mark_name, reading, reading_name, reference, rests_on, side_of_surface,
};
pub use reader::{file_note, skip_reason};
pub use reconcile::{
    bridge_line, compared_lengths, difference, mistake, note, pair, refusal, sources, suspect,
};
pub use record::{
    AS_STATED, BLADE_ABOVE, CAUTION_SHORT, ENTERED, FROM_PAPER, LINE, NO_JOURNAL, NO_MARKS,
    NO_PLAN, ONE_MARK_ALONE, PLANNED_NO_MARKS, RUNNING_JOINT, STRUCK, UNREADABLE_LIST, allowed_off,
    columns_in, found_by, hull_moves, in_unit, printed_at, sketch_of, slip, slip_code, slot_page,
    stick_up_at_landing, tally_of,
};
pub use said::said;
pub use scene::{
    CUT, DECK, FINISHED_TOP, FRAME_BASE, MUDLINE, NO_BASIS, SEA_SURFACE, SHOE, SHOULDER, TOP,
    clearance_of, connection_in, keep_out_of, kerf_of, lower_end, nearest_mark, on_slot, rt_at,
    scale_of_rows, u_alone, u_not_stated, u_of_mark, upper_end,
};
pub use screens::{
    CLEARANCE, COPY_BEHIND, CUT_TARGET, IN_JOINT, KEEP_OUT, NEAREST_MARK, NO_COMMAND, NO_FLAGS,
    OFF_CUT, OLD, OLD_MARKS, OLD_STATE, READ_AT, WITH_MOUSE, WORKING_OUT, asked, at_hull,
    below_rotary, clearances, copy_behind, cut_and, cutting_time, decisions_unreadable, drawn,
    flags_of, frame_base, from_mudline, from_rotary, keep_out, limits, list_unreadable, more,
    more_below, moves_target, no_other_list, on_joint, one_of, pipe, reading_file, record_written,
    rough_cut, row_of, shortened, slots_shown, spread_of, status_of_cuts, tally_file,
    to_landing_top, too_small, unit_in_full,
};
pub use seat::{
    DECK_STOPPED, SEAT_STIFF, chance_within, cog_margin, flat_to, gap_briefly, landed_said,
    legs_as_designed, not_seated, plan_scale, reference_said, remedies_said, rest_of,
    rests_on as seat_rests_on, seat_said, seat_slot, seat_state, seat_state_parts, tilt,
    trims_said,
};
pub use second_ways::{ONE_READING, second_of_deck, second_of_rotary, second_of_stick_up};
pub use sources::{from_entry, less_cropped, source};
pub use standing::{
    CAUTION, NO_CORRECTION, PROOF, SCRIBE, both, corrections_held, counted, slot_names,
};
pub use things::{
    ALL_AGREE, ALL_AGREE_ON_IT, AS_IT_IS, DECIDED_SO_FAR, DECIDED_THEN, ENTER_WRITES, FROM_THEN_ON,
    MOVES_THEN, NOT_LISTED, NOTHING_DECIDED, adopting, agreement_heading, also, chosen_list,
    chosen_measured, decided_line, deciding_heading, if_taken, lists_heading, overridden,
    overriding, rounded, set_open, taking_back, thing_agreement, thing_by, thing_cell, thing_label,
    thing_line, thing_stands, thing_state, thing_title, things_decided, why_asked,
};
pub use verdicts::{height_verdict, known, level_words, probability_words, rim_words, stated};
