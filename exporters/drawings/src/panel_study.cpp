#include "drawings/panel_study.hpp"

#include "base/tolerance.hpp"
#include "base/wording.hpp"
#include "drawings/holes.hpp"
#include "scene.hpp"
#include "shape/facets.hpp"
#include "shape/role_words.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ribbay {

namespace {

/// Whether the back of a panel (z = 0) is the face with the work on it: more dados, rebates and
/// grooves, or as many and more blind holes.
bool worked_behind(const Prism& prism) {
  int cuts = 0;  // on the face, less those on the back
  int holes = 0;
  for (const Cut& c : prism.cuts) {
    if (c.from <= kSame && c.to >= prism.height - kSame) continue;
    cuts += c.to >= prism.height - kSame ? 1 : -1;
  }
  for (const Bore& b : prism.bores) {
    if (b.through || std::abs(b.direction.z) < 0.7) continue;
    holes += b.direction.z < 0.0 ? 1 : -1;
  }
  return cuts != 0 ? cuts < 0 : holes < 0;
}

double corner_radius(const Loop& loop) {
  double radius = 0.0;
  for (const Corner& c : loop) radius = std::max(radius, c.radius);
  return radius;
}

/// A square whose corners are rounded by half its side.
bool is_circle(const Loop& loop) {
  if (loop.size() != 4) return false;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const double side = length(loop[(i + 1) % loop.size()].at - loop[i].at);
    if (std::abs(side - 2.0 * loop[i].radius) > kSame) return false;
  }
  return true;
}

/// Everything that a study needs to turn the prism's coordinates into the picture's.
struct Onto {
  const Prism& prism;
  const Frame& frame;
  const ViewFrame& view;
  Vec2 origin;
  bool behind = false;

  Vec2 picture(Vec2 p) const { return view.picture(frame.point({p.x, p.y, 0})) - origin; }
  Rect bounds_of(const Loop& loop) const {
    const Box box = bounds(Shape{{{Prism{{loop, {}}, 1.0, {}, {}, {}}, {}}}});
    const Vec2 a = picture({box.lo.x, box.lo.y});
    const Vec2 b = picture({box.hi.x, box.hi.y});
    return {{std::min(a.x, b.x), std::min(a.y, b.y)}, {std::max(a.x, b.x), std::max(a.y, b.y)}};
  }
};

void add_cut(PanelStudy& panel, const Onto& onto, const Cut& cut) {
  const Rect r = onto.bounds_of(cut.outline);
  const double thickness = onto.prism.height;
  CutMark mark;
  mark.area = {{std::max(r.lo.x, 0.0), std::max(r.lo.y, 0.0)},
               {std::min(r.hi.x, panel.width()), std::min(r.hi.y, panel.height())}};
  if (mark.area.width() < kSame || mark.area.height() < kSame) return;
  mark.role = cut.role;
  const double from = std::max(cut.from, 0.0);
  const double to = std::min(cut.to, thickness);
  mark.through = from <= kSame && to >= thickness - kSame;
  mark.depth = to - from;
  mark.front = mark.through || ((to >= thickness - kSame) != onto.behind);
  mark.radius = corner_radius(cut.outline);
  // Only what lies within the panel is placed by its centre.
  mark.round = is_circle(cut.outline) && std::abs(mark.area.width() - 2.0 * mark.radius) < kSame &&
               std::abs(mark.area.height() - 2.0 * mark.radius) < kSame;
  panel.cuts.push_back(mark);
}

void add_hole(PanelStudy& panel, const Onto& onto, Bore bore) {
  const Vec3 towards = onto.view.towards_eye();
  PanelHole hole;
  bore.at = onto.frame.point(bore.at);
  bore.direction = onto.frame.direction(bore.direction);
  hole.bore = bore;
  hole.at = onto.view.picture(bore.at) - onto.origin;
  const double in = dot(bore.direction, towards);
  const Vec2 d{dot(bore.direction, onto.view.right), dot(bore.direction, onto.view.up)};
  if (std::abs(in) > 0.7) {
    hole.face = in < 0.0 || bore.through ? "A" : "B";
  } else {
    hole.face =
        std::abs(d.x) > std::abs(d.y) ? (d.x > 0 ? "left" : "right") : (d.y > 0 ? "bottom" : "top");
    const double face_a =
        dot(onto.frame.point({0, 0, onto.behind ? 0.0 : onto.prism.height}), towards);
    hole.z = face_a - dot(bore.at, towards);
  }
  panel.holes.push_back(hole);
}

}  // namespace

Shape cut_shape(const Part& part) {
  return part.flat ? Shape{{{part.flat->blank, {}}}} : *part.shape;
}

PanelStudy study_panel(const Part& part, bool turned) {
  const Shape blank = cut_shape(part);
  const PlacedPrism& placed_prism = blank.prisms.front();
  const Prism& prism = placed_prism.prism;
  const Frame& frame = placed_prism.frame;
  const bool behind = worked_behind(prism);
  PanelStudy panel;
  panel.turned = turned;
  panel.behind = behind;
  panel.thickness = prism.height;
  // Seen from behind, left and right change places.
  panel.view = turned ? ViewFrame{behind ? frame.y : -frame.y, frame.x}
                      : ViewFrame{behind ? -frame.x : frame.x, frame.y};
  Onto onto{prism, frame, panel.view, {}, behind};
  // What the cuts leave: one may take a whole end.
  panel.picture = detail::seen_box(bounds(blank), panel.view);
  onto.origin = panel.picture.lo;
  for (const Loop& hole : prism.section.holes) {
    add_cut(panel, onto, {hole, 0.0, prism.height, CutRole::cut_out});
  }
  for (const Cut& cut : prism.cuts) add_cut(panel, onto, cut);
  for (const Bore& bore : prism.bores) add_hole(panel, onto, bore);
  if (part.flat) {
    for (const BendLine& bend : part.flat->bends) {
      panel.bends.push_back({onto.picture(bend.a), onto.picture(bend.b), std::abs(bend.angle),
                             (bend.angle > 0.0) != behind, bend.radius});
    }
  }
  const Loop& outer = prism.section.outer;
  const bool plain = outer.size() == 4 && corner_radius(outer) == 0.0 &&
                     std::abs(area({outer, {}}) - panel.width() * panel.height()) < kSame;
  for (const Corner& c : outer) panel.outline.push_back(onto.picture(c.at));
  panel.round = is_circle(outer);
  if (!plain && !panel.round) {
    for (const Corner& c : outer) panel.corners.push_back({onto.picture(c.at), c.radius});
  }
  return panel;
}

FacetOptions panel_detail(double scale) {
  return {.chord = 0.03 / scale, .coarse = false, .bores = true, .smallest = 0.5 / scale};
}

Drawn face_lines(const Part& part, const PanelStudy& panel, double scale) {
  Drawn drawn = visible_lines({facets(cut_shape(part), panel_detail(scale))}, panel.view,
                              {.hidden = true, .shortest = 0.15 / scale});
  for (DrawnLine& l : drawn.lines) {
    l.a = l.a - panel.picture.lo;
    l.b = l.b - panel.picture.lo;
  }
  for (DrawnArc& a : drawn.arcs) a.centre = a.centre - panel.picture.lo;
  return drawn;
}

std::string face_text(const std::string& face) {
  return face.size() == 1 ? face : say("side." + face);
}

std::string cut_text(const CutMark& cut, LengthStyle show) {
  std::string text = word(cut.role);
  if (cut.round) text += " Ø" + length_text(2.0 * cut.radius, show);
  text = cut.through ? say("cut.through", {{"cut", text}})
                     : say("cut.deep", {{"cut", text}, {"depth", length_text(cut.depth, show)}});
  if (cut.radius > 0.0 && !cut.round) text += ", R" + length_text(cut.radius, show);
  return cut.front ? text : say("far_face", {{"what", text}});
}

Table cut_table(const std::vector<CutMark>& cuts, LengthStyle show) {
  Table table;
  table.columns = {{say("column.cut"), 12},
                   {say("column.kind"), 26},
                   {say("column.x_from"), 20, Align::right},
                   {say("column.x_to"), 20, Align::right},
                   {say("column.y_from"), 20, Align::right},
                   {say("column.y_to"), 20, Align::right},
                   {say("column.depth"), 20, Align::right},
                   {say("column.corners"), 18},
                   {say("column.face"), 12}};
  for (const CutMark& c : cuts) {
    const auto place = [&](double from, double to) {
      return c.round ? std::pair{length_text((from + to) / 2, show), say("centre")}
                     : std::pair{length_text(from, show), length_text(to, show)};
    };
    const auto [left, right] = place(c.area.lo.x, c.area.hi.x);
    const auto [low, high] = place(c.area.lo.y, c.area.hi.y);
    const std::string corners = c.round          ? "Ø" + length_text(2.0 * c.radius, show)
                                : c.radius > 0.0 ? "R" + length_text(c.radius, show)
                                                 : "";
    table.rows.push_back({c.id, word(c.role), left, right, low, high,
                          c.through ? say("through") : length_text(c.depth, show), corners,
                          c.front ? "A" : "B"});
  }
  return table;
}

Table hole_table(const std::vector<HoleSeries>& series, LengthStyle show) {
  Table table;
  table.columns = {{say("column.hole"), 13},
                   {say("column.face"), 15},
                   {"X", 18, Align::right},
                   {"Y", 18, Align::right},
                   {"Z", 13, Align::right},
                   {say("column.number"), 11, Align::right},
                   {say("column.pitch"), 26},
                   {say("column.drill"), 16, Align::right},
                   {say("column.depth"), 20, Align::right},
                   {say("column.for"), 22}};
  for (const HoleSeries& s : series) {
    const bool edge = s.first.face.size() > 1;
    const bool up = s.pitch.y > 0.0;
    table.rows.push_back({s.id, face_text(s.first.face), length_text(s.first.at.x, show),
                          length_text(s.first.at.y, show), edge ? length_text(s.first.z, show) : "",
                          std::to_string(s.count),
                          s.count > 1 ? say(up ? "pitch.up" : "pitch.right",
                                            {{"pitch", length_text(s.pitch.x + s.pitch.y, show)}})
                                      : "",
                          diameter_text(s.first.bore, show), depth_text(s.first.bore, show),
                          name(s.first.bore.role)});
  }
  return table;
}

Table bend_table(const std::vector<BendMark>& bends, LengthStyle show) {
  Table table;
  table.columns = {{say("column.bend"), 14},
                   {say("column.from_x_y"), 34, Align::right},
                   {say("column.to_x_y"), 34, Align::right},
                   {say("column.angle"), 18, Align::right},
                   {say("column.towards"), 22},
                   {say("column.inside_r"), 22, Align::right}};
  const auto point = [&](Vec2 p) { return length_text(p.x, show) + ", " + length_text(p.y, show); };
  for (std::size_t i = 0; i < bends.size(); ++i) {
    const BendMark& bend = bends[i];
    table.rows.push_back({"B" + std::to_string(i + 1), point(bend.a), point(bend.b),
                          rounded_text(bend.angle * 180.0 / std::numbers::pi, 1) + "°",
                          say(bend.towards ? "towards.face_a" : "towards.face_b"),
                          length_text(bend.radius, show)});
  }
  return table;
}

Table corner_table(const std::vector<CornerMark>& corners, LengthStyle show) {
  Table table;
  table.columns = {{say("column.corner"), 18},
                   {"X", 22, Align::right},
                   {"Y", 22, Align::right},
                   {say("column.radius"), 22, Align::right}};
  for (std::size_t i = 0; i < corners.size(); ++i) {
    table.rows.push_back({"C" + std::to_string(i + 1), length_text(corners[i].at.x, show),
                          length_text(corners[i].at.y, show),
                          corners[i].radius > 0.0 ? length_text(corners[i].radius, show) : ""});
  }
  return table;
}

}  // namespace ribbay
