#include "panel_plan.hpp"

#include "base/tolerance.hpp"
#include "base/wording.hpp"
#include "drawings/face_note.hpp"
#include "drawings/finish_notes.hpp"
#include "drawings/tolerance_note.hpp"
#include "drawings/true_outline.hpp"
#include "part_drawing.hpp"

#include <algorithm>
#include <array>
#include <functional>

namespace ribbay::detail {

namespace {

constexpr std::size_t kManyHoles = 8;       // more go to a table
constexpr std::size_t kManyPositions = 10;  // of cuts along one axis; more go to a table
constexpr std::size_t kManyCorners = 8;
constexpr std::size_t kFewAskew = 4;  // corners of an outline with a side askew that need no table
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
    if (!c.corners.empty()) continue;  // told corner by corner
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

/// Neither along nor across: two running sizes do not say which belong together.
bool has_side_askew(const std::vector<CornerMark>& corners) {
  for (std::size_t i = 0; i < corners.size(); ++i) {
    if (slanted(corners[i].at, corners[(i + 1) % corners.size()].at)) return true;
  }
  return false;
}

/// Puts the corners of cuts askew among those of the panel, for the table. True when there are any,
/// or an outline askew with more corners than a reader pairs at a glance.
bool name_corners_askew(PanelStudy& panel) {
  bool any = panel.corners.size() > kFewAskew && has_side_askew(panel.corners);
  for (CutMark& cut : panel.cuts) {
    if (cut.corners.empty()) continue;
    any = true;
    const auto name = [&] { return "C" + std::to_string(panel.corners.size()); };
    for (const CornerMark& corner : cut.corners) {
      panel.corners.push_back(corner);
      if (cut.first_corner.empty()) cut.first_corner = name();
    }
    cut.last_corner = name();
  }
  return any;
}

/// The board whose thickness is another than people call it by: no whole millimetre.
const Sheet* measured_sheet(const Layout& layout, const Part& part) {
  if (!layout.catalogue || part.kind != PartKind::panel) return nullptr;
  const auto sheet = layout.catalogue->sheets.find(part.stock.key);
  if (sheet == layout.catalogue->sheets.end()) return nullptr;
  const double t = sheet->second.thickness;
  return std::abs(t - std::round(t)) > kSame ? &sheet->second : nullptr;
}

bool has_tongue(const Layout& layout, const Part& part) {
  if (!layout.catalogue || part.kind != PartKind::plank) return false;
  const auto plank = layout.catalogue->planks.find(part.stock.key);
  return plank != layout.catalogue->planks.end() && plank->second.tongue > 0.0;
}

/// Over all, largest first.
std::string folded_size(const Layout& layout, const Part& part) {
  const Vec3 size = bounds(*part.shape).size();
  std::array<double, 3> sizes{size.x, size.y, size.z};
  std::ranges::sort(sizes, std::ranges::greater{});
  const auto show = [&](double mm) { return length_text(mm, layout.project.show); };
  return show(sizes[0]) + " × " + show(sizes[1]) + " × " + show(sizes[2]);
}

std::vector<std::string> panel_notes(const PageSet& set, const PartType& type, const PanelPlan& p) {
  const PanelStudy& panel = p.panel;
  std::vector<std::string> notes;
  notes.push_back(
      face_note(set.layout, type, panel) +
      (!panel.bends.empty()      ? ""
       : has_datum_corner(panel) ? " " + say("note.from_corner")
                                 : " " + say("note.from_rectangle")) +
      (p.holes_tabled && std::ranges::any_of(panel.holes,
                                             [](const PanelHole& h) { return h.face.size() > 1; })
           ? " " + say("note.panel_z")
           : ""));
  // What is worked into both faces alike shows as that of face A.
  if (std::ranges::any_of(panel.cuts, [&](const CutMark& c) {
        return !c.front && !c.in_edge && !has_twin(c, panel.cuts);
      }))
    notes.push_back(say("note.from_behind"));
  if (std::ranges::any_of(panel.cuts, &CutMark::in_edge)) notes.push_back(say("note.in_edge"));
  if (std::ranges::any_of(panel.holes, [](const PanelHole& h) { return h.face == "B"; }))
    notes.push_back(say("note.behind_holes"));
  if (std::ranges::any_of(panel.holes, is_countersunk)) notes.push_back(say("note.countersinks"));
  if (std::ranges::any_of(panel.holes, starts_in_cut)) notes.push_back(say("note.from_floor"));
  if (std::ranges::any_of(panel.cuts, is_sharp)) notes.push_back(say("note.sharp"));
  if (const Sheet* sheet = measured_sheet(set.layout, p.part))
    notes.push_back(say("note.measured", {{"thickness", value_text(sheet->thickness, Unit::mm,
                                                                   set.layout.project.show)}}));
  if (std::string off = tolerance_note(set.layout, p.part); !off.empty())
    notes.push_back(std::move(off));
  if (has_tongue(set.layout, p.part)) notes.push_back(say("note.plank"));
  if (p.part.flat && p.part.kind == PartKind::panel) notes.push_back(say("note.sprung"));
  if (p.part.flat && p.part.kind == PartKind::folded)
    notes.push_back(say("note.folded", {{"size", folded_size(set.layout, p.part)}}));
  if (!p.part.coverings.empty()) notes.push_back(say("note.bare"));
  for (std::string& note : finish_notes(set.layout, p.part, panel))
    notes.push_back(std::move(note));
  return notes;
}

}  // namespace

PanelPlan plan_panel(const PageSet& set, const PartType& type, const Attempt& attempt) {
  const LengthStyle show = set.layout.project.show;
  const Part& part = set.layout.parts[type.parts.front()];
  PanelPlan p{.set = set,
              .type = type,
              .part = part,
              .panel = study_panel(set.layout, part),
              .style = {.height = attempt.letters, .show = show},
              .series = {},
              .notes = {part_ids(set, type)},
              .tables = {}};
  PanelStudy& panel = p.panel;
  const bool askew = name_corners_askew(panel);
  auto [xs, ys] = cut_positions(panel);
  p.cuts_tabled = !panel.cuts.empty() && (attempt.tabled || distinct(xs) > kManyPositions ||
                                          distinct(ys) > kManyPositions);
  p.corners_tabled =
      askew || panel.corners.size() > kManyCorners || (attempt.tabled && !panel.corners.empty());
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
    const TrueOutline outline = true_outline(set.layout, part);
    const auto alike = [&](const Ordinate& o) {
      return std::abs(o.low - outline.ordinates.front().low) < kSame &&
             std::abs(o.high - outline.ordinates.front().high) < kSame;
    };
    if (outline.ordinates.size() >= kFewestOrdinates &&
        !std::ranges::all_of(outline.ordinates, alike)) {
      p.tables.push_back(ordinate_table(outline, show));
      p.notes.push_back(say("note.ordinates"));
    }
  }
  if (!panel.bends.empty()) {
    p.notes.push_back(say("note.blank"));
  }
  for (std::string& note : panel_notes(set, type, p)) p.notes.push_back(std::move(note));
  return p;
}

}  // namespace ribbay::detail
