#include "base/tolerance.hpp"
#include "base/wording.hpp"
#include "card.hpp"
#include "drawings/dimension.hpp"
#include "drawings/holes.hpp"
#include "drawings/member_study.hpp"
#include "drawings/views.hpp"
#include "shape/role_words.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ribbay::detail {

namespace {

constexpr double kBand = 12.0;    // height of a side in the picture, which is no scale
constexpr double kIndent = 16.0;  // of the side's letter

/// How a side lies when face A is looked at with end 1 to the left.
std::string side_text(const MemberFace& side, const MemberFace& a) {
  const double up = dot(side.normal, a.view.up);
  return say(up > 0.7    ? "bench.side_above"
             : up < -0.7 ? "bench.side_below"
                         : "bench.side_behind",
             {{"side", side.letter}});
}

bool on_middle(const MemberHole& hole, const MemberFace& face) {
  return std::abs(hole.across - (face.high - face.low) / 2) < kSame;
}

/// Holes of one side drilled alike along one line.
std::vector<Task> hole_tasks(const MemberStudy& study, LengthStyle show) {
  std::vector<Task> tasks;
  std::vector<const MemberHole*> left;
  for (const MemberHole& hole : study.holes) left.push_back(&hole);
  while (!left.empty()) {
    const MemberHole& first = *left.front();
    const auto alike = [&](const MemberHole* h) {
      return h->face == first.face && same_drill(*h, first) &&
             std::abs(h->across - first.across) < kSame;
    };
    const MemberFace& face = study.faces[first.face];
    Task task{say(on_middle(first, face) ? "bench.side_middle" : "bench.side_holes",
                  {{"side", face.letter},
                   {"hole", hole_text(first, show)},
                   {"for", name(first.bore.role)},
                   {"up", length_text(first.across, show)}}),
              {}};
    for (const MemberHole* h : left) {
      if (alike(h)) task.items.push_back(length_text(h->along, show));
    }
    tasks.push_back(std::move(task));
    std::erase_if(left, alike);
  }
  return tasks;
}

std::vector<Task> end_tasks(const MemberStudy& study, LengthStyle show) {
  std::vector<Task> tasks;
  std::vector<Drilling> left = study.end_holes;
  while (!left.empty()) {
    const Drilling first = left.front();
    const auto alike = [&](const Drilling& hole) { return same_drill(hole, first); };
    Task task{
        say("bench.end_holes", {{"hole", hole_text(first, show)}, {"for", name(first.bore.role)}}),
        {}};
    for (const Drilling& hole : left) {
      if (alike(hole))
        task.items.push_back(say(hole.bore.direction.z > 0.0 ? "bench.end_1" : "bench.end_2"));
    }
    tasks.push_back(std::move(task));
    std::erase_if(left, alike);
  }
  return tasks;
}

void add_ring(Drawing& d, Vec2 centre, double radius, int view) {
  d.arcs.push_back(
      {centre, {radius, 0}, {0, radius}, 0.0, 2.0 * std::numbers::pi, kBenchPens.thin(), -1, view});
}

/// A side as a band, true along its length only.
std::optional<double> draw_side(Drawing& d, const MemberStudy& study, std::size_t index,
                                Vec2 corner, double width, const DimensionStyle& style,
                                bool positions) {
  const MemberFace& face = study.faces[index];
  const Rect band{{corner.x + kIndent, corner.y - 2.0 - kBand},
                  {corner.x + width - 14.0, corner.y - 2.0}};
  const double tall = face.high - face.low;
  const ViewPlace place = open_view(d, {band, axis_map(0.0, band.lo.x, band.width() / study.length),
                                        axis_map(0.0, band.lo.y, kBand / tall)});
  const Vec2 corners[] = {band.lo, {band.hi.x, band.lo.y}, band.hi, {band.lo.x, band.hi.y}};
  for (int i = 0; i < 4; ++i) {
    d.lines.push_back(
        {corners[i], corners[(i + 1) % 4], kBenchPens.visible(), -1, false, place.view});
  }
  AxisPlan along{ViewSide::bottom, 0.0, study.length, index == 0, {}};
  for (const MemberHole& hole : study.holes) {
    if (hole.face != index) continue;
    if (positions) along.positions.push_back(hole.along);
    const Vec2 at{place.x.paper(hole.along), place.y.paper(hole.across)};
    const double radius = std::clamp(hole.bore.diameter / 2 * kBand / tall, 0.8, 3.0);
    add_ring(d, at, radius, place.view);
    for (const Vec2 reach : {Vec2{radius + 0.8, 0}, Vec2{0, radius + 0.8}}) {
      d.lines.push_back(
          {at - reach, at + reach, {LineType::continuous, 0.18}, -1, false, place.view});
    }
  }
  add_text(d, face.letter, {corner.x + 3.0, band.centre().y - kBig / 2}, kBig);
  add_hook(d, band.lo);
  if (!add_axis_dimensions(d, place, {along}, style)) return std::nullopt;
  return kBand + 2.0 + depth_of(along, style) + 4.0;
}

}  // namespace

Card member_card(const Layout& layout, const PartType& type) {
  const Part& part = layout.parts[type.parts.front()];
  const LengthStyle show = layout.project.show;
  const MemberStudy study = study_member(part);
  Card card;
  card.type = &type;
  card.size = length_text(study.length, show);
  card.tasks = hole_tasks(study, show);
  std::ranges::move(end_tasks(study, show), std::back_inserter(card.tasks));
  std::string note = say("bench.hook");
  for (std::size_t f = 1; f < study.faces.size(); ++f) {
    note += " " + side_text(study.faces[f], study.faces[0]);
  }
  card.notes.push_back(note);
  card.picture = [study, show](Drawing& d, Vec2 corner, double width,
                               const PictureTry& attempt) -> std::optional<double> {
    const DimensionStyle style{.height = attempt.letters,
                               .first = 9.0,
                               .pitch = attempt.letters + 4.0,
                               .pen = kBenchPens.thin(),
                               .show = show};
    double height = 0.0;
    for (std::size_t f = 0; f < study.faces.size(); ++f) {
      const auto side =
          draw_side(d, study, f, corner - Vec2{0.0, height}, width, style, attempt.across);
      if (!side) return std::nullopt;
      height += *side;
    }
    return height;
  };
  return card;
}

}  // namespace ribbay::detail
