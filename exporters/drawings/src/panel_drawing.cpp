#include "base/tolerance.hpp"
#include "drawings/lettering.hpp"
#include "hole_series.hpp"
#include "holes.hpp"
#include "part_drawing.hpp"
#include "shape/facets.hpp"
#include "views.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ribbay::detail {

namespace {

constexpr std::size_t kManyHoles = 8;  // more go to a table
constexpr std::size_t kManyCuts = 4;
constexpr std::size_t kManyCorners = 8;

/// A cut as the drawing sees it, from the lower left corner of the view.
struct CutMark {
  Rect area;  ///< inside the panel
  CutRole role = CutRole::dado;
  double depth = 0.0;
  bool through = false;
  bool front = true;    ///< worked from the face shown
  double radius = 0.0;  ///< of its corners, when they are rounded
  std::string id;
};

struct CornerMark {
  Vec2 at;
  double radius = 0.0;
};

/// A panel seen square on.
struct Panel {
  ViewFrame view;  ///< in shape coordinates
  Rect picture;    ///< of the blank
  double thickness = 0.0;
  bool turned = false;  ///< its length runs upwards
  std::vector<CutMark> cuts;
  std::vector<PanelHole> holes;
  std::vector<CornerMark> corners;  ///< of the outline, when it is no plain rectangle
  double width() const { return picture.width(); }
  double height() const { return picture.height(); }
};

/// Where the holes and blind cuts of a panel are: on the side of its face (z = thickness) or
/// behind.
bool worked_behind_only(const Prism& prism) {
  bool front = false;
  bool behind = false;
  for (const Cut& c : prism.cuts) {
    if (c.from <= kSame && c.to >= prism.height - kSame) continue;
    (c.to >= prism.height - kSame ? front : behind) = true;
  }
  for (const Bore& b : prism.bores) {
    if (b.through || std::abs(b.direction.z) < 0.7) continue;
    (b.direction.z < 0.0 ? front : behind) = true;
  }
  return behind && !front;
}

double corner_radius(const Loop& loop) {
  double radius = 0.0;
  for (const Corner& c : loop) radius = std::max(radius, c.radius);
  return radius;
}

Panel study(const Part& part, bool turned) {
  const PlacedPrism& placed_prism = part.shape->prisms.front();
  const Prism& prism = placed_prism.prism;
  const Frame& frame = placed_prism.frame;
  Panel panel;
  panel.turned = turned;
  panel.thickness = prism.height;
  const bool behind = worked_behind_only(prism);
  // Seen from behind, left and right change places.
  panel.view = turned ? ViewFrame{behind ? frame.y : -frame.y, frame.x}
                      : ViewFrame{behind ? -frame.x : frame.x, frame.y};
  const Vec3 towards = panel.view.towards_eye();
  const auto picture = [&](Vec2 p) { return panel.view.picture(frame.point({p.x, p.y, 0})); };
  const auto bounds_of_loop = [&](const Loop& loop) {
    Rect r{{1e300, 1e300}, {-1e300, -1e300}};
    const auto add = [&](Vec2 p) {
      r.lo = {std::min(r.lo.x, p.x), std::min(r.lo.y, p.y)};
      r.hi = {std::max(r.hi.x, p.x), std::max(r.hi.y, p.y)};
    };
    for (const Side& side : sides(loop)) {
      add(picture(side.a));
      if (!side.arc) continue;
      // The arc bulges at most to its middle: chord points are enough for a size to the tenth.
      for (int i = 1; i < 64; ++i) {
        const Vec2 from = side.a - side.centre;
        const Vec2 to = side.b - side.centre;
        double turn = std::atan2(cross(from, to), dot(from, to));
        if (side.counter_clockwise && turn < 0) turn += 2 * std::numbers::pi;
        if (!side.counter_clockwise && turn > 0) turn -= 2 * std::numbers::pi;
        const double t = turn * i / 64.0;
        add(picture(side.centre + from * std::cos(t) + perpendicular(from) * std::sin(t)));
      }
    }
    return r;
  };
  panel.picture = bounds_of_loop(prism.section.outer);
  const Vec2 origin = panel.picture.lo;
  const Rect blank{{0, 0}, {panel.width(), panel.height()}};
  for (const Cut& cut : prism.cuts) {
    const Rect r = bounds_of_loop(cut.outline);
    CutMark mark;
    mark.area = {
        {std::max(r.lo.x - origin.x, 0.0), std::max(r.lo.y - origin.y, 0.0)},
        {std::min(r.hi.x - origin.x, blank.hi.x), std::min(r.hi.y - origin.y, blank.hi.y)}};
    if (mark.area.width() < kSame || mark.area.height() < kSame) continue;
    mark.role = cut.role;
    const double from = std::max(cut.from, 0.0);
    const double to = std::min(cut.to, prism.height);
    mark.through = from <= kSame && to >= prism.height - kSame;
    mark.depth = to - from;
    mark.front = mark.through || ((to >= prism.height - kSame) != behind);
    mark.radius = corner_radius(cut.outline);
    panel.cuts.push_back(mark);
  }
  for (Bore bore : prism.bores) {
    PanelHole hole;
    bore.at = frame.point(bore.at);
    bore.direction = frame.direction(bore.direction);
    hole.bore = bore;
    hole.at = panel.view.picture(bore.at) - origin;
    const double in = dot(bore.direction, towards);
    const Vec2 d{dot(bore.direction, panel.view.right), dot(bore.direction, panel.view.up)};
    if (std::abs(in) > 0.7) {
      hole.face = in < 0.0 || bore.through ? "A" : "B";
    } else {
      hole.face = std::abs(d.x) > std::abs(d.y) ? (d.x > 0 ? "left" : "right")
                                                : (d.y > 0 ? "bottom" : "top");
      const double face_a = dot(frame.point({0, 0, behind ? 0.0 : prism.height}), towards);
      hole.z = face_a - dot(bore.at, towards);
    }
    panel.holes.push_back(hole);
  }
  const Loop& outer = prism.section.outer;
  const bool plain = outer.size() == 4 && corner_radius(outer) == 0.0 &&
                     std::abs(area({outer, {}}) - panel.width() * panel.height()) < kSame;
  if (!plain) {
    for (const Corner& c : outer) panel.corners.push_back({picture(c.at) - origin, c.radius});
  }
  return panel;
}

std::string cut_text(const CutMark& cut, LengthStyle show) {
  std::string text = word(cut.role);
  text += cut.through ? " through" : ", " + length_text(cut.depth, show) + " deep";
  if (cut.radius > 0.0) text += ", R" + length_text(cut.radius, show);
  if (!cut.front) text += ", far face";
  return text;
}

Table cut_table(const std::vector<CutMark>& cuts, LengthStyle show) {
  Table table;
  table.columns = {{"Cut", 12},
                   {"Kind", 26},
                   {"X from", 20, Align::right},
                   {"X to", 20, Align::right},
                   {"Y from", 20, Align::right},
                   {"Y to", 20, Align::right},
                   {"Depth", 20, Align::right},
                   {"Corners", 18},
                   {"Face", 12}};
  for (const CutMark& c : cuts) {
    table.rows.push_back(
        {c.id, word(c.role), length_text(c.area.lo.x, show), length_text(c.area.hi.x, show),
         length_text(c.area.lo.y, show), length_text(c.area.hi.y, show),
         c.through ? "through" : length_text(c.depth, show),
         c.radius > 0.0 ? "R" + length_text(c.radius, show) : "", c.front ? "A" : "B"});
  }
  return table;
}

Table hole_table(const std::vector<HoleSeries>& series, LengthStyle show) {
  Table table;
  table.columns = {{"Hole", 13},
                   {"Face", 15},
                   {"X", 18, Align::right},
                   {"Y", 18, Align::right},
                   {"Z", 13, Align::right},
                   {"No.", 11, Align::right},
                   {"Pitch", 26},
                   {"Drill", 16, Align::right},
                   {"Depth", 20, Align::right},
                   {"For", 22}};
  for (const HoleSeries& s : series) {
    const bool edge = s.first.face.size() > 1;
    const bool up = s.pitch.y > 0.0;
    table.rows.push_back(
        {s.id, s.first.face, length_text(s.first.at.x, show), length_text(s.first.at.y, show),
         edge ? length_text(s.first.z, show) : "", std::to_string(s.count),
         s.count > 1 ? length_text(s.pitch.x + s.pitch.y, show) + (up ? " up" : " right") : "",
         diameter_text(s.first.bore, show), depth_text(s.first.bore, show),
         word(s.first.bore.role)});
  }
  return table;
}

Table corner_table(const std::vector<CornerMark>& corners, LengthStyle show) {
  Table table;
  table.columns = {{"Corner", 18},
                   {"X", 22, Align::right},
                   {"Y", 22, Align::right},
                   {"Radius", 22, Align::right}};
  for (std::size_t i = 0; i < corners.size(); ++i) {
    table.rows.push_back({"C" + std::to_string(i + 1), length_text(corners[i].at.x, show),
                          length_text(corners[i].at.y, show),
                          corners[i].radius > 0.0 ? length_text(corners[i].radius, show) : ""});
  }
  return table;
}

/// A double arrow along the grain, on a free spot of the face, outside of `gone`.
bool add_grain(Drawing& d, const ViewPlace& place, bool upwards, double letters,
               const std::vector<Rect>& gone) {
  const std::string text = "GRAIN";
  const double along = text_width(text, letters) + 8.0;
  const double across = letters + 3.0;
  const Vec2 half = upwards ? Vec2{across / 2, along / 2} : Vec2{along / 2, across / 2};
  const Rect o = place.outline;
  std::vector<Vec2> spots;
  for (int i = 1; i < 16; ++i) {
    for (int j = 1; j < 16; ++j)
      spots.push_back(o.lo + Vec2{o.width() * i / 16.0, o.height() * j / 16.0});
  }
  std::ranges::stable_sort(spots, {}, [&](Vec2 p) {
    const Vec2 q = p - o.centre();
    return q.x * q.x + q.y * q.y;
  });
  for (const Vec2 spot : spots) {
    const Rect box{spot - half, spot + half};
    if (!is_free(d, box, 1.0)) continue;
    if (std::ranges::any_of(gone, [&](const Rect& r) { return overlap(box, r); })) continue;
    const Vec2 dir = upwards ? Vec2{0, 1} : Vec2{1, 0};
    const Vec2 middle = upwards ? Vec2{box.hi.x - 0.8, spot.y} : Vec2{spot.x, box.lo.y + 0.8};
    add_line(d, middle - dir * (along / 2), middle + dir * (along / 2), kGroup50.thin());
    add_arrow(d, middle + dir * (along / 2), dir);
    add_arrow(d, middle - dir * (along / 2), dir * -1.0);
    const Vec2 foot = upwards ? Vec2{middle.x - 1.2, spot.y} : Vec2{spot.x, middle.y + 1.2};
    add_text(d, text, foot, letters, Align::centre, upwards);
    return true;
  }
  return false;
}

/// A point on the outline of a cut that is no edge of the panel.
Vec2 edge_point(const CutMark& c, const Panel& panel) {
  const Vec2 m = c.area.centre();
  if (c.area.hi.x < panel.width() - kSame) return {c.area.hi.x, m.y};
  if (c.area.lo.x > kSame) return {c.area.lo.x, m.y};
  return {m.x, c.area.hi.y < panel.height() - kSame ? c.area.hi.y : c.area.lo.y};
}

void add_position(std::vector<double>& to, double v, double end) {
  if (v > kSame && v < end - kSame) to.push_back(v);
}

}  // namespace

std::optional<Drawing> panel_drawing(const PageSet& set, const PartType& type,
                                     const Attempt& attempt) {
  const Part& part = set.layout.parts[type.parts.front()];
  const LengthStyle show = set.layout.project.show;
  const DimensionStyle style{.height = attempt.letters, .show = show};

  // What goes to tables, what is dimensioned.
  Panel panel = study(part, false);
  const bool holes_tabled =
      panel.holes.size() > kManyHoles ||
      std::ranges::any_of(panel.holes, [](const PanelHole& h) { return h.face.size() > 1; });
  const bool cuts_tabled = panel.cuts.size() > kManyCuts;
  const bool corners_tabled = panel.corners.size() > kManyCorners;

  const auto axes_of = [&](const Panel& p) {
    AxisPlan across{ViewSide::bottom, 0.0, p.width(), true, {}};
    AxisPlan up{ViewSide::left, 0.0, p.height(), true, {}};
    const auto add = [&](Vec2 at) {
      add_position(across.positions, at.x, p.width());
      add_position(up.positions, at.y, p.height());
    };
    if (!cuts_tabled) {
      for (const CutMark& c : p.cuts) {
        add(c.area.lo);
        add(c.area.hi);
      }
    }
    if (!holes_tabled) {
      for (const PanelHole& h : p.holes) add(h.at);
    }
    if (!corners_tabled) {
      for (const CornerMark& c : p.corners) add(c.at);
    }
    return std::pair{across, up};
  };

  // The tables' heights decide what room is left.
  std::vector<std::string> notes{part_ids(set, type)};
  notes.push_back("Face A is shown. Positions are measured from the lower left corner." +
                  std::string(holes_tabled ? " Z is measured from face A." : ""));
  if (std::ranges::any_of(panel.cuts, [](const CutMark& c) { return !c.front; }) ||
      std::ranges::any_of(panel.holes, [](const PanelHole& h) { return h.face == "B"; })) {
    notes.push_back("Dashed: worked from face B, behind.");
  }

  TitleBlock block = part_title(set, type);
  const Drawing empty = open_page(set, attempt.page, block);
  const Rect area = usable_area(empty, set.not_for_cutting);
  const Rect title = title_area(empty);
  const bool beside = attempt.page != PageSize::a4;
  const double notes_width = title.width() - 8.0;
  const double column_floor = title.hi.y + 4.0;

  struct Fit {
    bool turned = false;
    double scale = 0.0;
    Panel panel;
    std::vector<HoleSeries> series;
    double tables = 0.0;
  } fit;
  for (const bool turned : {false, true}) {
    Fit f;
    f.turned = turned;
    f.panel = study(part, turned);
    if (holes_tabled) f.series = hole_series(f.panel.holes);
    f.tables = notes_height(notes, notes_width, 2.5) + 4.0;
    const double row = Table{}.row;
    if (holes_tabled) f.tables += row * static_cast<double>(f.series.size() + 1) + 4.0;
    if (cuts_tabled) f.tables += row * static_cast<double>(f.panel.cuts.size() + 1) + 4.0;
    if (corners_tabled) f.tables += row * static_cast<double>(f.panel.corners.size() + 1) + 4.0;
    const auto [across, up] = axes_of(f.panel);
    const double below = depth_of(across, style) + 6.0;
    const double left = depth_of(up, style) + 6.0;
    const double right_room = 14.0 + 24.0;
    const double room_x = (beside ? title.lo.x : area.hi.x) - area.lo.x - left - right_room;
    const double room_y = area.hi.y - (beside ? area.lo.y : column_floor + f.tables) - below - 14.0;
    if (room_x <= 0.0 || room_y <= 0.0) continue;
    f.scale = scale_below(std::min(
        {(room_x) / (f.panel.width() + f.panel.thickness), room_y / f.panel.height(), 1.0}));
    if (f.scale > fit.scale) fit = std::move(f);
  }
  if (fit.scale <= 0.0) return std::nullopt;
  if (beside && column_floor + fit.tables > area.hi.y) return std::nullopt;
  panel = std::move(fit.panel);
  const double scale = smaller_scale(fit.scale, attempt.smaller);
  // A larger page rather than a panel that is drawn too small to read.
  const double drawn_size = std::max(panel.width(), panel.height()) * scale;
  if (attempt.smaller == 0 && attempt.page != PageSize::a2 && scale < 0.5 && drawn_size < 90.0)
    return std::nullopt;
  block.scale = scale_text(scale);
  Drawing d = open_page(set, attempt.page, block);
  const auto [across, up] = axes_of(panel);

  // Face view, in the middle of its room.
  const double left = area.lo.x + depth_of(up, style) + 6.0;
  const double low =
      (beside ? area.lo.y : column_floor + fit.tables) + depth_of(across, style) + 6.0;
  const double free_y = area.hi.y - 14.0 - low - panel.height() * scale;
  const double free_x =
      (beside ? title.lo.x : area.hi.x) - 38.0 - left - (panel.width() + panel.thickness) * scale;
  const Vec2 corner{left + std::max(0.0, free_x * 0.4), low + std::max(0.0, free_y * 0.5)};
  const ViewPlace place{{corner, corner + Vec2{panel.width(), panel.height()} * scale},
                        axis_map(0.0, corner.x, scale),
                        axis_map(0.0, corner.y, scale)};
  const auto paper = [&](Vec2 p) { return Vec2{place.x.paper(p.x), place.y.paper(p.y)}; };
  const FacetOptions options{
      .chord = 0.03 / scale, .coarse = false, .bores = true, .smallest = 0.5 / scale};
  Drawn drawn = visible_lines({facets(*part.shape, options)}, panel.view,
                              {.hidden = true, .shortest = 0.15 / scale});
  for (DrawnLine& l : drawn.lines) {
    l.a = l.a - panel.picture.lo;
    l.b = l.b - panel.picture.lo;
  }
  for (DrawnArc& a : drawn.arcs) a.centre = a.centre - panel.picture.lo;
  add_view(d, drawn, place, kGroup50.visible(), kGroup50.hidden());

  // The edge, seen from the left (first angle) or from the right (third angle).
  const Vec3 towards = panel.view.towards_eye();
  const ViewFrame edge_view{set.layout.project.first_angle ? towards : -towards, panel.view.up};
  FacetOptions edge_options = options;
  edge_options.bores = false;
  const Drawn edge = visible_lines({facets(*part.shape, edge_options)}, edge_view,
                                   {.hidden = !panel.cuts.empty(), .shortest = 0.15 / scale});
  const ViewPlace edge_place =
      place_view(bounds_of(edge), scale, {place.outline.hi.x + 18.0, place.outline.lo.y});
  add_view(d, edge, edge_place, kGroup50.visible(), kGroup50.hidden());

  for (const PanelHole& h : panel.holes) {
    if (h.face.size() > 1) continue;
    const Vec2 at = paper(h.at);
    const double reach = std::min(h.bore.diameter / 2 * scale + 1.2, 8.0);
    add_line(d, at - Vec2{reach, 0}, at + Vec2{reach, 0}, {LineType::continuous, 0.18});
    add_line(d, at - Vec2{0, reach}, at + Vec2{0, reach}, {LineType::continuous, 0.18});
  }
  for (const HoleSeries& s : fit.series) {
    if (s.first.face.size() == 1) continue;
    // Holes in edges: ticks where they enter.
    for (std::size_t i = 0; i < s.count; ++i) {
      const Vec2 at = paper(s.first.at + s.pitch * static_cast<double>(i));
      const Vec2 dir{dot(s.first.bore.direction, panel.view.right),
                     dot(s.first.bore.direction, panel.view.up)};
      add_line(d, at - dir * 1.5, at + dir * std::max(2.0, s.first.bore.depth * scale),
               kGroup50.centre());
    }
  }
  if (!add_axis_dimensions(d, place, {across, up}, style)) return std::nullopt;
  const Rect edge_picture = bounds_of(edge);
  if (!add_axis_dimensions(d, edge_place,
                           {{ViewSide::bottom, edge_picture.lo.x, edge_picture.hi.x, true, {}}},
                           style)) {
    return std::nullopt;
  }

  for (const HoleSeries& s : fit.series) {
    if (!add_label(d, paper(s.first.at), s.id, 2.5, 20.0)) return std::nullopt;
  }
  if (corners_tabled) {
    for (std::size_t i = 0; i < panel.corners.size(); ++i) {
      if (!add_label(d, paper(panel.corners[i].at), "C" + std::to_string(i + 1), 2.5, 20.0))
        return std::nullopt;
    }
  }
  int number = 0;
  for (CutMark& c : panel.cuts) {
    if (!cuts_tabled) break;
    c.id = "K" + std::to_string(++number);
    if (!add_label(d, paper(c.area.centre()), c.id, 2.5, 20.0)) return std::nullopt;
  }
  std::vector<Rect> gone;
  for (const CutMark& c : panel.cuts) {
    if (c.through) gone.push_back({paper(c.area.lo), paper(c.area.hi)});
  }
  if (part.stock.grain && !add_grain(d, place, panel.turned, attempt.letters, gone))
    return std::nullopt;
  if (!cuts_tabled) {
    for (std::size_t i = 0; i < panel.cuts.size(); ++i) {
      const CutMark& c = panel.cuts[i];
      // An arrow on the edge of what is gone, a dot on what is left.
      const Vec2 at = paper(c.through ? edge_point(c, panel) : c.area.centre());
      if (!add_callout(d, at, cut_text(c, show), attempt.letters, kGroup50.thin(),
                       {edge_place.outline}, !c.through)) {
        return std::nullopt;
      }
    }
  }
  if (!holes_tabled) {
    std::vector<PanelHole> open = panel.holes;
    while (!open.empty()) {
      const PanelHole first = open.front();
      const auto alike = [&](const PanelHole& h) {
        return h.face == first.face && same_drill(h.bore, first.bore);
      };
      const auto count = std::ranges::count_if(open, alike);
      const std::string text = (count > 1 ? std::to_string(count) + " × " : "") +
                               hole_text(first.bore, show) +
                               (first.face == "B" ? ", far face" : "");
      const double r = first.bore.diameter / 2 * 0.7;
      if (!add_callout(d, paper(first.at + Vec2{r, r}), text, attempt.letters, kGroup50.thin(),
                       {edge_place.outline})) {
        return std::nullopt;
      }
      std::erase_if(open, alike);
    }
  }
  if (!corners_tabled) {
    std::vector<CornerMark> round;
    for (const CornerMark& c : panel.corners) {
      if (c.radius > 0.0) round.push_back(c);
    }
    while (!round.empty()) {
      const CornerMark first = round.front();
      const auto alike = [&](const CornerMark& c) {
        return std::abs(c.radius - first.radius) < kSame;
      };
      const auto count = std::ranges::count_if(round, alike);
      const Vec2 inwards{first.at.x < panel.width() / 2 ? 1.0 : -1.0,
                         first.at.y < panel.height() / 2 ? 1.0 : -1.0};
      const Vec2 on_arc = first.at + inwards * (first.radius * (1.0 - std::sqrt(0.5)));
      const std::string text =
          (count > 1 ? std::to_string(count) + " × " : "") + "R" + length_text(first.radius, show);
      if (!add_callout(d, paper(on_arc), text, attempt.letters, kGroup50.thin(),
                       {edge_place.outline}))
        return std::nullopt;
      std::erase_if(round, alike);
    }
  }

  // Notes stand on the title block, tables on the notes.
  double top = column_floor + notes_height(notes, notes_width, 2.5);
  add_notes(d, notes, {title.lo.x + 4.0, top}, notes_width, 2.5);
  const auto stack = [&](const Table& table) {
    top += 4.0 + table.total_height();
    const Rect box{{title.lo.x + 4.0, top - table.total_height()},
                   {title.lo.x + 4.0 + table.width(), top}};
    const bool free = is_free(d, box);
    if (free) add_table(d, table, {box.lo.x, box.hi.y});
    return free;
  };
  if (holes_tabled && !stack(hole_table(fit.series, show))) return std::nullopt;
  if (cuts_tabled && !stack(cut_table(panel.cuts, show))) return std::nullopt;
  if (corners_tabled && !stack(corner_table(panel.corners, show))) return std::nullopt;
  return d;
}

}  // namespace ribbay::detail
