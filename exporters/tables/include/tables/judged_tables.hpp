#pragma once

#include "base/output_file.hpp"
#include "judgement/judgement.hpp"

namespace ribbay {

/// How far each gap may be off: one row per gap. Columns: why it is looked at, its name or motion, a,
/// b, axis, as drawn, required, worst case and root-sum-square (plus or minus), least that is left in
/// either, verdict ("fits", "may not fit", "unlikely to fit", "too narrow", "see van_fit.csv"), the largest contributor with its share
/// of the square in percent, all contributors, place x, y, z.
OutputFile gap_list(const Layout& layout, const Judgement& judgement);

/// Where modules meet the van: module, place (a wall, all ribs of one side, ...), of it the worst part
/// and body of the van, verdict, gap as drawn, uncertainty of
/// the survey, bow, allowance to leave on or pack, what to measure again, place x, y, z.
OutputFile van_fit_list(const Layout& layout, const Judgement& judgement);

/// Where felt goes: a, b, places, least gap, length of the longest and width of the widest strip,
/// area of all in cm2, ids.
OutputFile rattle_list(const Layout& layout, const Judgement& judgement);

/// shop/gaps.csv, shop/van_fit.csv and shop/rattle.csv, those that have rows.
OutputFiles judged_tables(const Layout& layout, const Judgement& judgement);

}  // namespace ribbay
