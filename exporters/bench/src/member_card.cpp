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
#include <tuple>

namespace ribbay::detail {

namespace {

constexpr double kBand = 12.0;     // height of a side in the picture, which is no scale
constexpr double kIndent = 16.0;   // of the side's letter
constexpr double kEnd = 36.0;      // column of the end, left of the bands
constexpr double kEndSize = 20.0;  // of the end itself, at most
constexpr double kUp = 2.0;        // from it to the arrows beside it

/// How a side lies when face A is looked at with end 1 to the left.
std::string side_text(const MemberFace& side, const MemberFace& a) {
  const double up = dot(side.normal, a.view.up);
  return say(up > 0.7    ? "bench.side_above"
             : up < -0.7 ? "bench.side_below"
                         : "bench.side_behind",
             {{"side", side.letter}});
}

/// On the middle line, as far as a rule tells.
bool on_middle(const MemberHole& hole, const MemberFace& face) {
  constexpr double told = 0.05;  // mm
  return std::abs(hole.across - (face.high - face.low) / 2) < told;
}

/// Holes of one side drilled alike along one line; side by side, one drill after another.
std::vector<Task> hole_tasks(const MemberStudy& study, LengthStyle show) {
  std::vector<Task> tasks;
  std::vector<const MemberHole*> left;
  for (const MemberHole& hole : study.holes) left.push_back(&hole);
  std::ranges::stable_sort(left, {}, [](const MemberHole* h) {
    return std::tuple(h->face, h->bore.diameter, h->across);
  });
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

/// The end that the tape hooks on, seen square on and true to scale. Beside each side with holes
/// its letter, and an arrow that runs up from the edge that the side is measured from.
void draw_end(Drawing& d, const Part& part, const MemberStudy& study, Vec2 corner) {
  const Vec3 size = study.box.size();
  const double scale = std::min(1.0, kEndSize / std::max(size.x, size.y));
  const ViewFrame frame = end_frame(study, true);
  const Drawn drawn = end_lines(part, frame, scale);
  const Rect picture = bounds_of(drawn);
  const Vec2 half = Vec2{picture.width(), picture.height()} * (scale / 2);
  const double beside = kUp + 1.5 + kFigure;  // room that a letter takes
  const auto above = [&](double way) {        // or below
    return std::ranges::any_of(
               study.faces,
               [&](const MemberFace& face) { return dot(face.normal, frame.up) * way > 0.7; })
               ? beside
               : 2.0;
  };
  const Vec2 middle = corner + Vec2{kEnd / 2, -above(1.0) - half.y};
  const ViewPlace place = open_view(d, place_view(picture, scale, middle - half));
  add_view(d, drawn, place, kBenchPens.visible(), kBenchPens.hidden());
  for (const MemberFace& face : study.faces) {
    const auto on_paper = [&](Vec3 v) { return Vec2{dot(v, frame.right), dot(v, frame.up)}; };
    const auto reach = [&](Vec2 way) {
      return std::abs(way.x) * half.x + std::abs(way.y) * half.y;
    };
    const Vec2 out = on_paper(face.normal);
    const Vec2 up = on_paper(face.view.up);
    const Vec2 side = middle + out * reach(out);
    const Vec2 foot = side + out * kUp - up * reach(up);
    const Vec2 tip = side + out * kUp + up * reach(up);
    add_line(d, foot - out * (kUp - 0.6), foot + out, kBenchPens.thin());
    add_line(d, foot, tip, kBenchPens.thin());
    add_arrow(d, tip, up);
    const Vec2 letter = side + out * (kUp + 1.5 + kFigure / 2);
    add_text(d, face.letter, {letter.x, letter.y - kFigure / 2}, kFigure, Align::centre);
  }
  const double foot = above(1.0) + 2.0 * half.y + above(-1.0);
  add_notes(d, {say("bench.from_end_1")}, corner - Vec2{0.0, foot + 1.0}, kEnd - 2.0, kWord);
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
    const double radius = std::min(hole.bore.diameter / 2 * kBand / tall, 3.0);
    add_hole_mark(d, at, radius, hole.bore, false, place.view);
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
  std::vector<std::string> sides;
  for (std::size_t f = 1; f < study.faces.size(); ++f)
    sides.push_back(side_text(study.faces[f], study.faces[0]));
  if (!sides.empty()) card.notes.push_back(join(sides, " "));
  card.picture = [&part, study, show](Drawing& d, Vec2 corner, double width,
                                      const PictureTry& attempt) -> std::optional<std::string> {
    const DimensionStyle style{.height = attempt.letters,
                               .first = 9.0,
                               .pitch = attempt.letters + 4.0,
                               .pen = kBenchPens.thin(),
                               .show = show};
    draw_end(d, part, study, corner);
    double below = 0.0;
    for (std::size_t f = 0; f < study.faces.size(); ++f) {
      const auto side =
          draw_side(d, study, f, corner + Vec2{kEnd, -below}, width - kEnd, style, attempt.across);
      if (!side) return std::nullopt;
      below += *side;
    }
    return attempt.across ? std::string() : say("bench.list_only");
  };
  return card;
}

}  // namespace ribbay::detail
