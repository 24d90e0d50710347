#include "base/tolerance.hpp"
#include "base/wording.hpp"
#include "corner_details.hpp"
#include "drawings/audit.hpp"
#include "drawings/holes.hpp"
#include "drawings/lettering.hpp"
#include "drawings/views.hpp"
#include "folded_view.hpp"
#include "panel_plan.hpp"
#include "part_drawing.hpp"
#include "shape/facets.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

constexpr double kEdgeGap = 18.0;   // between face view and edge view
constexpr double kEdgeRoom = 38.0;  // for that gap and the thickness dimension
constexpr Pen kThin = kGroup50.thin();

/// A point on the outline of a cut that is no edge of the panel.
Vec2 edge_point(const CutMark& c, const PanelStudy& panel) {
  const Vec2 m = c.area.centre();
  if (c.round) return m + Vec2{c.radius, c.radius} * std::sqrt(0.5);
  if (c.area.hi.x < panel.width() - kSame) return {c.area.hi.x, m.y};
  if (c.area.lo.x > kSame) return {c.area.lo.x, m.y};
  return {m.x, c.area.hi.y < panel.height() - kSame ? c.area.hi.y : c.area.lo.y};
}

/// Where views, notes and tables go on a page.
struct Room {
  Rect views;           ///< for the face view and the edge view, their dimensions not counted
  double column = 0.0;  ///< left edge of the notes, and of tables that stand on them
  double floor = 0.0;   ///< notes stand on this
  double width = 0.0;   ///< of notes
  std::optional<Vec2>
      flank{};  ///< upper left corner of the tables, when they stand beside the views
};

/// Ways to share a page out between views and tables.
enum class Sharing {
  beside,   ///< views left of the title block, notes and tables above it
  stacked,  ///< views above all the rest
  flanked,  ///< views and tables side by side above title block and notes
};

std::optional<Room> room_for(const PanelPlan& p, const Drawing& page, Sharing sharing) {
  constexpr double apart = 6.0;
  const Rect area = usable_area(page, p.set.not_for_cutting);
  const Rect title = title_area(page);
  Room room;
  room.column = title.lo.x + 4.0;
  room.floor = title.hi.y + 4.0;
  room.width = title.width() - 8.0;
  const double notes = notes_height(p.notes, room.width, 2.5);
  double right = area.hi.x;
  double low = room.floor + notes + p.tables_height() + 4.0;
  if (low > area.hi.y) return std::nullopt;
  if (sharing == Sharing::beside) {
    right = title.lo.x;
    low = area.lo.y;
  } else if (sharing == Sharing::flanked) {
    if (p.tables.empty()) return std::nullopt;
    right -= p.tables_width() + 2.0 * apart;
    low = room.floor + notes + 4.0;
    room.flank = Vec2{right + apart, area.hi.y - apart};
  }
  room.views = {
      {area.lo.x + depth_of(p.up, p.style) + apart, low + depth_of(p.across, p.style) + apart},
      {right - kEdgeRoom, area.hi.y - 14.0}};
  if (room.views.width() <= 0.0 || room.views.height() <= 0.0) return std::nullopt;
  return room;
}

/// Whether a page shows enough of a panel at this scale: a plain one is all told by its sizes, one
/// with many holes wants room for their names; and a groove must still show its two sides.
bool legible(const PanelPlan& p, double scale, PageSize page) {
  const PanelStudy& panel = p.panel;
  const std::size_t told =
      panel.cuts.size() + panel.holes.size() + panel.corners.size() + panel.bends.size();
  constexpr std::size_t many = 8;
  const double drawn = std::max(panel.width(), panel.height()) * scale;  // mm
  if (drawn < (told == 0 ? 30.0 : told <= many ? 50.0 : 75.0)) return false;
  if (told > many && scale < 0.1 && page == PageSize::a4) return false;
  constexpr double told_apart = 0.7;  // least space between lines: ISO 128-2, from memory
  for (const AxisPlan* axis : {&p.across, &p.up}) {
    std::vector<double> places = axis->positions;
    std::ranges::sort(places);
    for (std::size_t i = 1; i < places.size(); ++i) {
      const double apart = places[i] - places[i - 1];
      if (apart > kSame && apart * scale < told_apart) return false;
    }
  }
  return std::ranges::all_of(panel.cuts, [&](const CutMark& c) {
    return std::min(c.area.width(), c.area.height()) * scale >= 1.0;
  });
}

double largest_scale(const PanelStudy& panel, const Room& room) {
  return scale_below(std::min({room.views.width() / (panel.width() + panel.thickness),
                               room.views.height() / panel.height(), 1.0}));
}

ViewPlace add_face_view(Drawing& d, const PanelPlan& p, const Room& room, double scale) {
  const PanelStudy& panel = p.panel;
  const Vec2 left_over{room.views.width() - (panel.width() + panel.thickness) * scale,
                       room.views.height() - panel.height() * scale};
  const Vec2 corner =
      room.views.lo + Vec2{std::max(0.0, left_over.x * 0.4), std::max(0.0, left_over.y * 0.5)};
  const ViewPlace place =
      open_view(d, place_view({{0, 0}, {panel.width(), panel.height()}}, scale, corner));
  add_view(d, face_lines(p.part, panel, scale), place, kGroup50.visible(), kGroup50.hidden());
  return place;
}

/// The edge, seen from the left in first angle and from the right in third angle, to the right of
/// the face.
ViewPlace add_edge_view(Drawing& d, const PanelPlan& p, const ViewPlace& face, double scale) {
  const Vec3 towards = p.panel.view.towards_eye();
  const ViewFrame view{p.set.layout.project.first_angle ? towards : -towards, p.panel.view.up};
  FacetOptions options = panel_detail(scale);
  options.bores = false;
  const Drawn edge = visible_lines({facets(cut_shape(p.part), options)}, view,
                                   {.hidden = !p.panel.cuts.empty(), .shortest = 0.15 / scale});
  const ViewPlace place = open_view(
      d, place_view(bounds_of(edge), scale, {face.outline.hi.x + kEdgeGap, face.outline.lo.y}));
  add_view(d, edge, place, kGroup50.visible(), kGroup50.hidden());
  return place;
}

Vec2 on_paper(const ViewPlace& place, Vec2 p) {
  return {place.x.paper(p.x), place.y.paper(p.y)};
}

/// Bend lines are continuous narrow lines (ISO 128-2, from memory).
void add_bends(Drawing& d, const PanelPlan& p, const ViewPlace& place) {
  for (const BendMark& bend : p.panel.bends) {
    add_line(d, on_paper(place, bend.a), on_paper(place, bend.b), kThin);
  }
}

void add_hole_centres(Drawing& d, const PanelPlan& p, const ViewPlace& place, double scale) {
  for (const CutMark& c : p.panel.cuts) {
    if (!c.round) continue;
    const Vec2 at = on_paper(place, c.area.centre());
    const double reach = c.radius * scale + 1.5;
    add_line(d, at - Vec2{reach, 0}, at + Vec2{reach, 0}, kGroup50.centre());
    add_line(d, at - Vec2{0, reach}, at + Vec2{0, reach}, kGroup50.centre());
  }
  for (const PanelHole& h : p.panel.holes) {
    const Vec2 at = on_paper(place, h.at);
    if (h.face.size() == 1) {
      const double reach = std::min(h.bore.diameter / 2 * scale + 1.2, 8.0);
      const Pen hair{LineType::continuous, 0.18};
      add_line(d, at - Vec2{reach, 0}, at + Vec2{reach, 0}, hair);
      add_line(d, at - Vec2{0, reach}, at + Vec2{0, reach}, hair);
    } else {
      // A hole in an edge: its axis, from where the drill enters.
      const Vec2 in{dot(h.bore.direction, p.panel.view.right),
                    dot(h.bore.direction, p.panel.view.up)};
      add_line(d, at - in * 1.5, at + in * std::max(2.0, h.bore.depth * scale), kGroup50.centre());
    }
  }
}

/// Right beside what it names, else with a leader.
bool add_name(Drawing& d, Vec2 at, const std::string& name, double beside = 4.5,
              const std::vector<Vec2>& others = {}) {
  constexpr double height = 2.5;
  constexpr double reach = 20.0;
  constexpr double clearance = 1.2;
  return add_label(d, at, name, height, beside, others, clearance) ||
         add_callout(d, at, name, height, kThin, {}, true) || add_label(d, at, name, height, reach);
}

/// Corners that lie together, as around a small notch, share one name: their order is that of the
/// table.
bool add_corner_names(Drawing& d, const PanelPlan& p, const ViewPlace& place) {
  const std::vector<CornerMark>& corners = p.panel.corners;
  std::vector<bool> named(corners.size(), false);
  const auto add = [&](std::size_t i, const std::string& text) {
    return add_name(d, on_paper(place, corners[i].at), text);
  };
  for (const CornerGroup& group : corner_groups(corners, place.scale())) {
    if (!add(group.first, name_of(group))) return false;
    for (std::size_t i = 0; i < group.count; ++i) named[group.at(i)] = true;
  }
  for (std::size_t i = 0; i < corners.size(); ++i) {
    if (!named[i] && !add(i, corner_name(i))) return false;
  }
  return true;
}

/// Names of what stands in tables.
bool add_names(Drawing& d, const PanelPlan& p, const ViewPlace& place) {
  std::vector<Vec2> holes;
  for (const PanelHole& h : p.panel.holes) holes.push_back(on_paper(place, h.at));
  for (const HoleSeries& s : p.series) {
    // Two holes in one edge lie near each other, and their marks are short.
    const double beside = s.first.face.size() > 1 ? 2.2 : 4.5;
    if (!add_name(d, on_paper(place, s.first.at), s.id, beside, holes)) return false;
  }
  if (p.corners_tabled && !add_corner_names(d, p, place)) return false;
  for (std::size_t i = 0; i < p.panel.bends.size(); ++i) {
    const BendMark& bend = p.panel.bends[i];
    const Vec2 near = bend.a + (bend.b - bend.a) * 0.2;
    if (!add_name(d, on_paper(place, near), "B" + std::to_string(i + 1))) return false;
  }
  for (const CutMark& c : p.panel.cuts) {
    if (!p.cuts_tabled || add_label(d, on_paper(place, c.area.centre()), c.id, 2.5, 4.5)) continue;
    if (!add_callout(d, on_paper(place, edge_point(c, p.panel)), c.id, 2.5, kThin) &&
        !add_name(d, on_paper(place, c.area.centre()), c.id))
      return false;
  }
  return true;
}

struct Note {
  Vec2 at;  ///< from the lower left corner
  std::string text;
  bool dot = false;
  int count = 1;
};

/// Notes with equal words become one, with their number before it.
void gather(std::vector<Note>& notes, Note fresh) {
  const auto known = std::ranges::find(notes, fresh.text, &Note::text);
  if (known == notes.end()) {
    notes.push_back(std::move(fresh));
  } else {
    ++known->count;
  }
}

/// The point nearest to the middle of a cut where there is still wood under it, and no hole about,
/// if any.
std::optional<Vec2> point_left(const CutMark& c, const PanelStudy& panel, double scale) {
  constexpr int steps = 40;
  constexpr double clear = 2.0;  // of a hole, on paper
  const auto gone = [&](Vec2 at) {
    return std::ranges::any_of(panel.cuts,
                               [&](const CutMark& other) {
                                 return other.through && inside({at, at}, grown(other.area, kSame));
                               }) ||
           std::ranges::any_of(panel.holes, [&](const PanelHole& h) {
             return length(h.at - at) < h.bore.diameter / 2 + clear / scale;
           });
  };
  const Vec2 middle = c.area.centre();
  const Vec2 half{c.area.width() / 2, c.area.height() / 2};
  for (int i = 0; i < steps; ++i) {
    for (const Vec2 to :
         {Vec2{half.x, 0.0}, Vec2{-half.x, 0.0}, Vec2{0.0, half.y}, Vec2{0.0, -half.y}}) {
      const Vec2 at = middle + to * (static_cast<double>(i) / steps);
      if (!gone(at)) return at;
    }
  }
  return std::nullopt;
}

/// What is said beside the view with a leader: depths, drills, radii.
std::vector<Note> notes_on(const PanelPlan& p, double scale) {
  const LengthStyle show = p.style.show;
  std::vector<Note> notes;
  for (const CutMark& c : p.panel.cuts) {
    // A sharp notch through the edge is all said by its sizes.
    const bool at_edge = c.area.lo.x < kSame || c.area.lo.y < kSame ||
                         c.area.hi.x > p.panel.width() - kSame ||
                         c.area.hi.y > p.panel.height() - kSame;
    if (p.cuts_tabled || (c.through && at_edge && c.radius == 0.0)) continue;
    // An arrow on the edge of what is gone, a dot on what is left.
    const auto left = point_left(c, p.panel, scale);
    // What is worked into both faces at one place is told once.
    const bool twin = has_twin(c, p.panel.cuts);
    if (twin && !c.front) continue;
    const std::string text = cut_text(c, show);
    gather(notes, {left.value_or(edge_point(c, p.panel)),
                   twin ? say("both_faces", {{"what", text}}) : text, left.has_value()});
  }
  for (const PanelHole& h : p.panel.holes) {
    if (p.holes_tabled) break;
    const double r = h.bore.diameter / 2 * std::sqrt(0.5);
    const std::string text = hole_text(h, show);
    gather(notes, {h.at + Vec2{r, r}, h.face == "B" ? say("far_face", {{"what", text}}) : text});
  }
  if (p.panel.round) {
    const double r = p.panel.width() / 2;
    gather(notes, {Vec2{r, r} + Vec2{r, r} * std::sqrt(0.5), "Ø" + length_text(2.0 * r, show)});
  }
  for (const CornerMark& c : p.panel.corners) {
    if (p.corners_tabled || c.radius == 0.0) continue;
    const Vec2 inwards{c.at.x < p.panel.width() / 2 ? 1.0 : -1.0,
                       c.at.y < p.panel.height() / 2 ? 1.0 : -1.0};
    gather(notes, {c.at + inwards * (c.radius * (1.0 - std::sqrt(0.5))),
                   "R" + length_text(c.radius, show)});
  }
  return notes;
}

bool add_leader_notes(Drawing& d, const PanelPlan& p, const ViewPlace& place, const Rect& edge) {
  for (const Note& note : notes_on(p, place.scale())) {
    const std::string text = (note.count > 1 ? std::to_string(note.count) + " × " : "") + note.text;
    if (!add_callout(d, on_paper(place, note.at), text, p.style.height, kThin, {edge}, note.dot))
      return false;
  }
  return true;
}

bool add_notes_and_tables(Drawing& d, const PanelPlan& p, const Room& room) {
  double top = room.floor + notes_height(p.notes, room.width, 2.5);
  add_notes(d, p.notes, {room.column, top}, room.width, 2.5);
  Vec2 flank = room.flank.value_or(Vec2{});
  for (const Table& table : p.tables) {
    top += 4.0 + table.total_height();
    const Vec2 corner = room.flank ? flank : Vec2{room.column, top};
    flank.y -= table.total_height() + 4.0;
    if (!is_free(d, {corner - Vec2{0.0, table.total_height()}, corner + Vec2{table.width(), 0.0}}))
      return false;
    add_table(d, table, corner);
  }
  return true;
}

/// What a page has besides where it finds room.
struct Extras {
  std::vector<CornerDetail> details{};  ///< of corners too near each other for their names
  bool bent = false;                    ///< the part as it is when it is bent
};

std::optional<Drawing> drawn(const PanelPlan& p, const Attempt& attempt, const Room& room,
                             double scale, const Extras& extras) {
  TitleBlock block = part_title(p.set, p.type);
  block.scale = scale_text(scale);
  Drawing d = open_page(p.set, attempt.page, block);
  const ViewPlace face = add_face_view(d, p, room, scale);
  const ViewPlace edge = add_edge_view(d, p, face, scale);
  add_bends(d, p, face);
  add_hole_centres(d, p, face, scale);
  if (!add_axis_dimensions(d, face, {p.across, p.up}, p.style)) return std::nullopt;
  const AxisPlan thickness{
      ViewSide::bottom, edge.x.model(edge.outline.lo.x), edge.x.model(edge.outline.hi.x), true, {}};
  if (!add_axis_dimensions(d, edge, {thickness}, p.style)) return std::nullopt;
  if (!add_notes_and_tables(d, p, room) || !add_corner_marks(d, extras.details, face) ||
      !add_names(d, p, face))
    return std::nullopt;
  std::vector<Rect> gone;
  for (const CutMark& c : p.panel.cuts) {
    if (c.through) gone.push_back({on_paper(face, c.area.lo), on_paper(face, c.area.hi)});
  }
  if (p.part.stock.grain && !add_grain(d, face, p.panel.upright, attempt.letters, gone))
    return std::nullopt;
  // The notes say it too: where there is no room for it, it may be left out.
  add_pose(d, face, p.panel.up, attempt.letters, gone);
  if (!add_leader_notes(d, p, face, edge.outline)) return std::nullopt;
  const Rect area = usable_area(d, p.set.not_for_cutting);
  if (extras.bent && !add_folded_view(d, p.part, p.panel, scale, area)) return std::nullopt;
  if (!add_corner_details(d, p.part, p.panel, extras.details, area)) return std::nullopt;
  return d;
}

}  // namespace

std::optional<Drawing> panel_drawing(const PageSet& set, const PartType& type,
                                     const Attempt& attempt) {
  const Drawing empty = open_page(set, attempt.page, part_title(set, type));
  const PanelPlan p = plan_panel(set, type, attempt);
  std::optional<Room> room;
  double scale = 0.0;
  for (const Sharing sharing : {Sharing::beside, Sharing::stacked, Sharing::flanked}) {
    const auto r = room_for(p, empty, sharing);
    if (!r || largest_scale(p.panel, *r) <= scale) continue;
    room = r;
    scale = largest_scale(p.panel, *r);
  }
  if (!room) return std::nullopt;
  scale = smaller_scale(scale, attempt.smaller);
  if (attempt.smaller == 0 && attempt.page != PageSize::a2 && scale < 0.5 &&
      !legible(p, scale, attempt.page))
    return std::nullopt;

  const bool bent = !p.panel.bends.empty();
  const auto details =
      p.corners_tabled ? corner_details(p.panel, scale) : std::vector<CornerDetail>();
  std::vector<Extras> wishes{{details, bent}};
  if (bent && !details.empty()) wishes.insert(wishes.end(), {{{}, true}, {details, false}});
  if (!bent && details.empty()) wishes.clear();
  for (const Extras& extras : wishes) {
    auto d = drawn(p, attempt, *room, scale, extras);
    if (d && audit(*d).empty()) return d;
  }
  return drawn(p, attempt, *room, scale, {});
}

}  // namespace ribbay::detail
