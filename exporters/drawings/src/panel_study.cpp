#include "drawings/panel_study.hpp"

#include "base/tolerance.hpp"
#include "base/wording.hpp"
#include "drawings/holes.hpp"
#include "drawings/lettering.hpp"
#include "layout/front.hpp"
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
    const bool back = c.from <= kSame;
    const bool front = c.to >= prism.height - kSame;
    if (back == front) continue;  // through, or in the edge
    cuts += front ? 1 : -1;
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

/// An outline as the picture has it, its arcs in short chords.
std::vector<Vec2> drawn_outline(const Onto& onto, const Loop& loop) {
  constexpr int chords = 48;
  std::vector<Vec2> points;
  for (const Side& side : sides(loop)) {
    points.push_back(onto.picture(side.a));
    if (!side.arc) continue;
    const double from = std::atan2(side.a.y - side.centre.y, side.a.x - side.centre.x);
    double turn = std::atan2(side.b.y - side.centre.y, side.b.x - side.centre.x) - from;
    if (side.counter_clockwise && turn < 0.0) turn += 2.0 * std::numbers::pi;
    if (!side.counter_clockwise && turn > 0.0) turn -= 2.0 * std::numbers::pi;
    for (int i = 1; i < chords; ++i) {
      const double at = from + turn * i / chords;
      points.push_back(onto.picture(side.centre + Vec2{std::cos(at), std::sin(at)} * side.radius));
    }
  }
  return points;
}

/// What of a polygon lies within a rectangle, one side after the other (Sutherland and Hodgman).
std::vector<Vec2> within(std::vector<Vec2> polygon, const Rect& rect) {
  const auto keep = [&](Vec2 normal, double most) {
    std::vector<Vec2> out;
    for (std::size_t i = 0; i < polygon.size(); ++i) {
      const Vec2 a = polygon[i];
      const Vec2 b = polygon[(i + 1) % polygon.size()];
      const double over_a = dot(a, normal) - most;
      const double over_b = dot(b, normal) - most;
      if (over_a <= 0.0) out.push_back(a);
      if ((over_a < 0.0 && over_b > 0.0) || (over_a > 0.0 && over_b < 0.0))
        out.push_back(a + (b - a) * (over_a / (over_a - over_b)));
    }
    polygon = std::move(out);
  };
  keep({-1, 0}, -rect.lo.x);
  keep({1, 0}, rect.hi.x);
  keep({0, -1}, -rect.lo.y);
  keep({0, 1}, rect.hi.y);
  return polygon;
}

Rect around(const std::vector<Vec2>& points) {
  Rect r{points.front(), points.front()};
  for (const Vec2 p : points) r = united(r, {p, p});
  return r;
}

/// The corners of an outline with a side neither along nor across; none of any other.
std::vector<CornerMark> corners_askew(const Onto& onto, const Loop& loop, const Rect& panel) {
  std::vector<CornerMark> corners;
  if (std::ranges::none_of(sides(loop), [](const Side& s) { return !s.arc && slanted(s.a, s.b); }))
    return corners;
  std::vector<Vec2> sharp;
  for (const Corner& c : loop) sharp.push_back(onto.picture(c.at));
  for (const Vec2 at : within(sharp, panel)) {
    const auto known = std::ranges::find_if(
        loop, [&](const Corner& c) { return length(onto.picture(c.at) - at) < kSame; });
    const bool again = std::ranges::any_of(
        corners, [&](const CornerMark& c) { return length(c.at - at) < kSame; });
    if (!again) corners.push_back({at, known == loop.end() ? 0.0 : known->radius});
  }
  return corners;
}

void add_cut(PanelStudy& panel, const Onto& onto, const Cut& cut) {
  const Rect all{{0.0, 0.0}, {panel.width(), panel.height()}};
  const Rect r = onto.bounds_of(cut.outline);
  const double thickness = onto.prism.height;
  CutMark mark;
  mark.area = {{std::max(r.lo.x, 0.0), std::max(r.lo.y, 0.0)},
               {std::min(r.hi.x, panel.width()), std::min(r.hi.y, panel.height())}};
  if (mark.area.width() < kSame || mark.area.height() < kSame) return;
  mark.round = is_circle(cut.outline) && inside({r.centre(), r.centre()}, all);
  if (!mark.round && !inside(r, grown(all, kSame))) {
    // A rounded corner, or a side askew, may leave less within the panel than the bounds say.
    const std::vector<Vec2> left = within(drawn_outline(onto, cut.outline), all);
    if (left.size() < 3) return;
    const Rect true_area = around(left);
    constexpr double sliver = 0.2;  // mm; what a saw's set takes with it
    if (std::min(true_area.width(), true_area.height()) < sliver) return;
    constexpr double chord = 0.02;
    if (!inside(mark.area, grown(true_area, chord))) mark.area = true_area;
  }
  if (mark.round) mark.area = r;
  mark.corners = corners_askew(onto, cut.outline, all);
  mark.role = cut.role;
  const double from = std::max(cut.from, 0.0);
  const double to = std::min(cut.to, thickness);
  mark.through = from <= kSame && to >= thickness - kSame;
  mark.depth = to - from;
  mark.front = mark.through || ((to >= thickness - kSame) != onto.behind);
  mark.radius = corner_radius(cut.outline);
  mark.in_edge = from > kSame && to < thickness - kSame;
  if (mark.in_edge) {
    mark.below = onto.behind ? from : thickness - to;
    mark.into = std::min(mark.area.width(), mark.area.height());
  }
  panel.cuts.push_back(mark);
}

void add_hole(PanelStudy& panel, const Onto& onto, const Drilling& drilling) {
  const Vec3 towards = onto.view.towards_eye();
  PanelHole hole{drilling, {}, {}};
  for (Bore* bore : {&hole.bore, hole.sunk ? &*hole.sunk : nullptr}) {
    if (bore == nullptr) continue;
    bore->at = onto.frame.point(bore->at);
    bore->direction = onto.frame.direction(bore->direction);
  }
  const Bore& bore = hole.bore;
  hole.at = onto.view.picture(bore.at) - onto.origin;
  const double face_a =
      dot(onto.frame.point({0, 0, onto.behind ? 0.0 : onto.prism.height}), towards);
  const double below_a = face_a - dot(bore.at, towards);
  const double in = dot(bore.direction, towards);
  const Vec2 d{dot(bore.direction, onto.view.right), dot(bore.direction, onto.view.up)};
  if (std::abs(in) > 0.7) {
    hole.face = in < 0.0 || (bore.through && !hole.sunk) ? "A" : "B";
    if (!bore.through) hole.z = hole.face == "A" ? below_a : onto.prism.height - below_a;
  } else {
    hole.face =
        std::abs(d.x) > std::abs(d.y) ? (d.x > 0 ? "left" : "right") : (d.y > 0 ? "bottom" : "top");
    hole.z = below_a;
  }
  panel.holes.push_back(hole);
}

struct Pose {
  ViewFrame view;
  PanelUp up = PanelUp::length;
  bool upright = false;
};

/// `lying`: the view of the face with the part's length from left to right.
Pose pose_of(const Layout& layout, const Part& part, const ViewFrame& lying) {
  const Module* module = layout.module(part.module);
  if (module == nullptr) return {lying};
  const auto turned_to = [&](Vec3 wanted, PanelUp up) -> std::optional<Pose> {
    constexpr double along = 0.9;  // a curved or leaning part stands all the same
    ViewFrame view = lying;
    for (int quarters = 0; quarters < 4; ++quarters) {
      if (dot(part.frame.direction(view.up), wanted) > along)
        return Pose{view, up, quarters % 2 != 0};
      view = {-view.up, view.right};
    }
    return std::nullopt;
  };
  if (const auto stands = turned_to({0, 0, 1}, PanelUp::up)) return *stands;
  if (const auto lies = turned_to(front_way(module->front) * -1.0, PanelUp::behind)) return *lies;
  return {lying};
}

}  // namespace

bool slanted(Vec2 from, Vec2 to) {
  return std::abs(from.x - to.x) > kSame && std::abs(from.y - to.y) > kSame;
}

bool is_sharp(const CutMark& cut) {
  return cut.through && !cut.round && cut.radius == 0.0 && cut.corners.empty();
}

bool has_datum_corner(const PanelStudy& panel) {
  return std::ranges::any_of(panel.outline, [](Vec2 at) { return length(at) < kSame; }) &&
         std::ranges::none_of(panel.cuts, [](const CutMark& cut) {
           return cut.through && length(cut.area.lo) < kSame;
         });
}

Shape cut_shape(const Part& part) {
  return part.flat ? Shape{{{part.flat->blank, {}}}} : *part.shape;
}

PanelStudy study_panel(const Layout& layout, const Part& part) {
  const Shape blank = cut_shape(part);
  const PlacedPrism& placed_prism = blank.prisms.front();
  const Prism& prism = placed_prism.prism;
  const Frame& frame = placed_prism.frame;
  const bool behind = worked_behind(prism);
  PanelStudy panel;
  panel.behind = behind;
  panel.thickness = prism.height;
  // Seen from behind, left and right change places.
  const Pose pose = pose_of(layout, part, ViewFrame{behind ? -frame.x : frame.x, frame.y});
  panel.view = pose.view;
  panel.up = pose.up;
  panel.upright = pose.upright;
  Onto onto{prism, frame, panel.view, {}, behind};
  // What the cuts leave: one may take a whole end.
  panel.picture = detail::seen_box(bounds(blank), panel.view);
  onto.origin = panel.picture.lo;
  for (const Loop& hole : prism.section.holes) {
    add_cut(panel, onto, {hole, 0.0, prism.height, CutRole::cut_out});
  }
  for (const Cut& cut : prism.cuts) add_cut(panel, onto, cut);
  for (const Drilling& drilling : drillings(prism.bores)) add_hole(panel, onto, drilling);
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

Drawn face_lines(const Part& part, const PanelStudy& panel, double scale, bool bored) {
  FacetOptions detail = panel_detail(scale);
  detail.bores = bored;
  Drawn drawn = visible_lines({facets(cut_shape(part), detail)}, panel.view,
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
  if (cut.in_edge)
    return say("cut.in_edge", {{"cut", text},
                               {"wide", length_text(cut.depth, show)},
                               {"depth", length_text(cut.into, show)},
                               {"below", length_text(cut.below, show)}});
  text = cut.through ? say("cut.through", {{"cut", text}})
                     : say("cut.deep", {{"cut", text}, {"depth", length_text(cut.depth, show)}});
  if (cut.radius > 0.0 && !cut.round) text += ", R" + length_text(cut.radius, show);
  if (!cut.first_corner.empty())
    text =
        say("cut.corners", {{"cut", text}, {"first", cut.first_corner}, {"last", cut.last_corner}});
  return cut.front ? text : say("far_face", {{"what", text}});
}

namespace {

/// One place, one depth, one kind of cut, and the other face.
bool same_but_face(const CutMark& a, const CutMark& b) {
  return a.front != b.front && a.role == b.role && !a.through && !b.through && !a.in_edge &&
         !b.in_edge && a.corners.empty() && b.corners.empty() &&
         std::abs(a.depth - b.depth) < kSame && length(a.area.lo - b.area.lo) < kSame &&
         length(a.area.hi - b.area.hi) < kSame && std::abs(a.radius - b.radius) < kSame;
}

}  // namespace

bool has_twin(const CutMark& cut, const std::vector<CutMark>& cuts) {
  return std::ranges::any_of(cuts, [&](const CutMark& other) { return same_but_face(other, cut); });
}

Table cut_table(const std::vector<CutMark>& cuts, LengthStyle show) {
  Table table;
  table.columns = {{say("column.cut"), 12},
                   {say("column.kind"), 26},
                   {say("column.x_from"), 18, Align::right},
                   {say("column.x_to"), 18, Align::right},
                   {say("column.y_from"), 18, Align::right},
                   {say("column.y_to"), 18, Align::right},
                   {say("column.depth"), 17, Align::right},
                   {say("column.corners"), 17},
                   {say("column.face"), 12}};
  const bool edge_grooves = std::ranges::any_of(cuts, &CutMark::in_edge);
  if (edge_grooves) table.columns.back().width = 24;
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
    table.rows.push_back(
        {c.id, word(c.role), left, right, low, high,
         c.through ? say("through") : length_text(c.in_edge ? c.into : c.depth, show), corners,
         c.in_edge ? say("cut.edge_side", {{"from", length_text(c.below, show)},
                                           {"to", length_text(c.below + c.depth, show)}})
         : c.front ? "A"
                   : "B"});
  }
  return table;
}

namespace {

/// "84.9 up, to 845.1": where the last one lies, when steps of the printed pitch would miss it.
std::string pitch_text(const HoleSeries& s, bool up, LengthStyle show) {
  const double pitch = s.pitch.x + s.pitch.y;
  const std::string text =
      say(up ? "pitch.up" : "pitch.right", {{"pitch", length_text(pitch, show)}});
  const double steps = static_cast<double>(s.count - 1);
  constexpr double tenth = 0.1;  // of a millimetre, as lengths are printed
  const double off = std::abs(std::round(pitch / tenth) * tenth - pitch) * steps;
  if (show == LengthStyle::millimetres && off < tenth / 2) return text;
  const double last = (up ? s.first.at.y : s.first.at.x) + pitch * steps;
  return say("pitch.to", {{"pitch", text}, {"last", length_text(last, show)}});
}

}  // namespace

Table hole_table(const std::vector<HoleSeries>& series, LengthStyle show) {
  const bool edges =
      std::ranges::any_of(series, [](const HoleSeries& s) { return s.first.face.size() > 1; });
  const bool rows = std::ranges::any_of(series, [](const HoleSeries& s) { return s.count > 1; });
  std::vector<Drilling> drilled;
  for (const HoleSeries& s : series) drilled.push_back(s.first);
  const MouthColumn mouths(drilled);
  double widest_pitch = 0.0;
  for (const HoleSeries& s : series) {
    if (s.count > 1)
      widest_pitch = std::max(widest_pitch, text_width(pitch_text(s, s.pitch.y > 0.0, show), 2.5));
  }
  Table table;
  // Columns that would stay empty are left out: a narrow table leaves a larger view.
  const auto column = [&](bool wanted, Column c) {
    if (wanted) table.columns.push_back(std::move(c));
  };
  column(true, {say("column.hole"), 11});
  column(true, {say("column.face"), 13});
  column(true, {"X", 15, Align::right});
  column(true, {"Y", 15, Align::right});
  column(edges, {"Z", 12, Align::right});
  column(rows, {say("column.number"), 9, Align::right});
  column(rows, {say("column.pitch"), std::max(24.0, widest_pitch + 3.0)});
  column(true, {say("column.drill"), 12, Align::right});
  column(true, {say("column.depth"), 15, Align::right});
  column(mouths.wanted(), {mouths.heading(), 21, Align::right});
  column(true, {say("column.for"), 17});
  for (const HoleSeries& s : series) {
    const bool edge = s.first.face.size() > 1;
    const bool up = s.pitch.y > 0.0;
    std::vector<std::string> cells{s.id, face_text(s.first.face), length_text(s.first.at.x, show),
                                   length_text(s.first.at.y, show)};
    if (edges) cells.push_back(edge ? length_text(s.first.z, show) : "");
    if (rows) {
      cells.push_back(std::to_string(s.count));
      cells.push_back(s.count > 1 ? pitch_text(s, up, show) : "");
    }
    cells.push_back(diameter_text(s.first.bore, show));
    cells.push_back(depth_text(s.first.bore, show));
    if (mouths.wanted()) cells.push_back(mouths.cell(s.first, show));
    cells.push_back(name(s.first.bore.role));
    table.rows.push_back(std::move(cells));
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
  const bool rounded =
      std::ranges::any_of(corners, [](const CornerMark& c) { return c.radius > 0.0; });
  table.columns = {{say("column.corner"), 18}, {"X", 22, Align::right}, {"Y", 22, Align::right}};
  if (rounded) table.columns.push_back({say("column.radius"), 22, Align::right});
  for (std::size_t i = 0; i < corners.size(); ++i) {
    table.rows.push_back({"C" + std::to_string(i + 1), length_text(corners[i].at.x, show),
                          length_text(corners[i].at.y, show)});
    if (rounded)
      table.rows.back().push_back(corners[i].radius > 0.0 ? length_text(corners[i].radius, show)
                                                          : say("corner.sharp"));
  }
  return table;
}

}  // namespace ribbay
