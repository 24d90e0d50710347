#include "panel_plan.hpp"

#include "base/tolerance.hpp"
#include "base/wording.hpp"
#include "drawings/finish_notes.hpp"
#include "drawings/true_outline.hpp"
#include "part_drawing.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

constexpr std::size_t kManyHoles = 8;       // more go to a table
constexpr std::size_t kManyPositions = 10;  // of cuts along one axis; more go to a table
constexpr std::size_t kManyCorners = 8;
constexpr std::size_t kFewestOrdinates = 3;  // a short outline is told by its corners

std::size_t distinct(std::vector<double> values) {
  std::ranges::sort(values);
  return static_cast<std::size_t>(
      std::unique(values.begin(), values.end(), [](double a, double b) { return b - a < kSame; }) -
      values.begin());
}

/// Cut edges along both axes, without those on the panel's own edges; centres of round cuts.
std::pair<std::vector<double>, std::vector<double>> cut_positions(const PanelStudy& panel) {
  std::pair<std::vector<double>, std::vector<double>> out;
  const auto add = [](std::vector<double>& to, double v, double end) {
    if (v > kSame && v < end - kSame) to.push_back(v);
  };
  for (const CutMark& c : panel.cuts) {
    if (c.round) {
      out.first.push_back(c.area.centre().x);
      out.second.push_back(c.area.centre().y);
      continue;
    }
    for (const Vec2 p : {c.area.lo, c.area.hi}) {
      add(out.first, p.x, panel.width());
      add(out.second, p.y, panel.height());
    }
  }
  return out;
}

}  // namespace

PanelPlan plan_panel(const PageSet& set, const PartType& type, bool turned,
                     const Attempt& attempt) {
  const LengthStyle show = set.layout.project.show;
  const Part& part = set.layout.parts[type.parts.front()];
  PanelPlan p{.set = set,
              .type = type,
              .part = part,
              .panel = study_panel(part, turned),
              .style = {.height = attempt.letters, .show = show},
              .series = {},
              .notes = {part_ids(set, type)},
              .tables = {}};
  PanelStudy& panel = p.panel;
  auto [xs, ys] = cut_positions(panel);
  p.cuts_tabled = !panel.cuts.empty() && (attempt.tabled || distinct(xs) > kManyPositions ||
                                          distinct(ys) > kManyPositions);
  p.corners_tabled =
      panel.corners.size() > kManyCorners || (attempt.tabled && !panel.corners.empty());
  p.holes_tabled =
      panel.holes.size() > kManyHoles || (attempt.tabled && !panel.holes.empty()) ||
      std::ranges::any_of(panel.holes, [](const PanelHole& h) { return h.face.size() > 1; });
  if (p.cuts_tabled) {
    int number = 0;
    for (CutMark& c : panel.cuts) c.id = "K" + std::to_string(++number);
    xs.clear();
    ys.clear();
  }
  const auto add = [&xs = xs, &ys = ys](Vec2 at) {
    xs.push_back(at.x);
    ys.push_back(at.y);
  };
  if (!p.holes_tabled) {
    for (const PanelHole& h : panel.holes) add(h.at);
  }
  if (!p.corners_tabled) {
    for (const CornerMark& c : panel.corners) add(c.at);
  }
  p.across.end = panel.width();
  p.across.positions = std::move(xs);
  p.up.end = panel.height();
  p.up.positions = std::move(ys);
  if (p.holes_tabled) {
    p.series = hole_series(panel.holes);
    p.tables.push_back(hole_table(p.series, show));
  }
  if (p.cuts_tabled) p.tables.push_back(cut_table(panel.cuts, show));
  if (p.corners_tabled) p.tables.push_back(corner_table(panel.corners, show));
  if (!panel.bends.empty()) p.tables.push_back(bend_table(panel.bends, show));

  if (needs_template(part)) {
    const TrueOutline outline = true_outline(part, turned);
    if (outline.ordinates.size() >= kFewestOrdinates) {
      p.tables.push_back(ordinate_table(outline, show));
      p.notes.push_back(say("note.ordinates"));
    }
  }
  if (!panel.bends.empty()) {
    p.notes.push_back(say("note.blank"));
  }
  p.notes.push_back(say(panel.behind ? "note.panel_back" : "note.panel_face") +
                    (p.holes_tabled ? " " + say("note.panel_z") : ""));
  if (std::ranges::any_of(panel.cuts, [](const CutMark& c) { return !c.front; }) ||
      std::ranges::any_of(panel.holes, [](const PanelHole& h) { return h.face == "B"; })) {
    p.notes.push_back(say("note.from_behind"));
  }
  for (std::string& note : finish_notes(set.layout, part, panel))
    p.notes.push_back(std::move(note));
  return p;
}

}  // namespace ribbay::detail
