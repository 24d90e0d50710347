#include "base/tolerance.hpp"
#include "base/wording.hpp"
#include "card.hpp"
#include "drawings/dimension.hpp"
#include "drawings/face_note.hpp"
#include "drawings/finish_notes.hpp"
#include "drawings/holes.hpp"
#include "drawings/panel_study.hpp"
#include "drawings/part_words.hpp"
#include "drawings/views.hpp"
#include "shape/role_words.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <tuple>

namespace ribbay::detail {

namespace {

constexpr double kTallest = 92.0;      // of a picture
constexpr double kToldApart = 1.2;     // least on paper between lines of two positions
constexpr double kNoDiagonal = 250.0;  // a square holds shorter pieces true, mm

std::string xy(Vec2 at, LengthStyle show) {
  return "X " + length_text(at.x, show) + "  Y " + length_text(at.y, show);
}

std::string where(const CutMark& cut, LengthStyle show) {
  if (cut.round) return xy(cut.area.centre(), show);
  return "X " + length_text(cut.area.lo.x, show) + " – " + length_text(cut.area.hi.x, show) +
         "  Y " + length_text(cut.area.lo.y, show) + " – " + length_text(cut.area.hi.y, show);
}

void gather(std::vector<Task>& tasks, const std::string& words, std::string item) {
  const auto known = std::ranges::find(tasks, words, &Task::words);
  if (known == tasks.end())
    tasks.push_back({words, {std::move(item)}});
  else
    known->items.push_back(std::move(item));
}

/// True for a cut that another one of its kind takes away with it: notches that meet in a corner.
bool is_within_another(const CutMark& cut, const std::vector<CutMark>& cuts) {
  return std::ranges::any_of(cuts, [&](const CutMark& other) {
    const auto wider = [&](const Rect& a, const Rect& b) { return inside(b, grown(a, kSame)); };
    return &other != &cut && other.role == cut.role && other.through == cut.through &&
           other.front == cut.front && std::abs(other.depth - cut.depth) < kSame && !other.round &&
           !cut.round && other.radius < kSame && wider(other.area, cut.area) &&
           (!wider(cut.area, other.area) || &other < &cut);
  });
}

std::vector<Task> cut_tasks(const PanelStudy& panel, LengthStyle show) {
  std::vector<Task> tasks;
  for (const CutMark& cut : panel.cuts) {
    if (is_within_another(cut, panel.cuts)) continue;
    const bool twin = has_twin(cut, panel.cuts);
    if (twin && !cut.front) continue;
    std::string words = cut_text(cut, show);
    if (cut.round) words = say("bench.centre", {{"cut", words}});
    if (twin) words = say("both_faces", {{"what", words}});
    gather(tasks, words + ":", where(cut, show));
  }
  return tasks;
}

/// Holes along lines: "Y 30: X 50, 250, 450", by rows or by columns, whichever are fewer.
std::vector<Task> lines_of(std::vector<const PanelHole*> holes, const std::string& words,
                           LengthStyle show) {
  const auto lines = [&](bool rows) {
    std::map<long long, std::vector<const PanelHole*>> found;
    for (const PanelHole* h : holes)
      found[std::llround((rows ? h->at.y : h->at.x) / kSame)].push_back(h);
    return found;
  };
  const auto rows = lines(true);
  const auto columns = lines(false);
  const bool by_rows = rows.size() <= columns.size();
  std::vector<Task> tasks;
  for (const auto& [at, line] : by_rows ? rows : columns) {
    std::vector<double> places;
    for (const PanelHole* h : line) places.push_back(by_rows ? h->at.x : h->at.y);
    std::ranges::sort(places);
    const Vec2 first = line.front()->at;
    Task task{say(by_rows ? "bench.row" : "bench.column",
                  {{"holes", words}, {"at", length_text(by_rows ? first.y : first.x, show)}}),
              {}};
    for (const double place : places) task.items.push_back(length_text(place, show));
    tasks.push_back(std::move(task));
  }
  return tasks;
}

std::vector<Task> hole_tasks(const PanelStudy& panel, LengthStyle show) {
  std::vector<Task> tasks;
  std::vector<const PanelHole*> left;
  for (const PanelHole& hole : panel.holes) left.push_back(&hole);
  std::ranges::stable_sort(
      left, {}, [](const PanelHole* h) { return std::tuple(h->face, h->bore.diameter); });
  while (!left.empty()) {
    const PanelHole& first = *left.front();
    const bool edge = first.face.size() > 1;
    const auto alike = [&](const PanelHole* h) { return drilled_alike(*h, first); };
    std::vector<const PanelHole*> group;
    std::ranges::copy_if(left, std::back_inserter(group), alike);
    std::erase_if(left, alike);
    const std::string drill = hole_text(first, show) + ", " + name(first.bore.role);
    if (!edge) {
      std::ranges::move(
          lines_of(group, say("bench.face_holes", {{"face", first.face}, {"holes", drill}}), show),
          std::back_inserter(tasks));
      continue;
    }
    const bool upright = first.face == "left" || first.face == "right";
    std::vector<double> places;
    for (const PanelHole* h : group) places.push_back(upright ? h->at.y : h->at.x);
    std::ranges::sort(places);
    Task task{say(upright ? "bench.upright_edge" : "bench.level_edge",
                  {{"edge", face_text(first.face)},
                   {"holes", drill},
                   {"depth", length_text(first.z, show)}}),
              {}};
    for (const double place : places) task.items.push_back(length_text(place, show));
    tasks.push_back(std::move(task));
  }
  return tasks;
}

std::vector<Task> bend_tasks(const PanelStudy& panel, LengthStyle show) {
  std::vector<Task> tasks;
  for (const BendMark& bend : panel.bends) {
    const std::string words =
        say("bench.bend", {{"angle", rounded_text(bend.angle * 180.0 / std::numbers::pi, 1) + "°"},
                           {"face", bend.towards ? "A" : "B"},
                           {"radius", "R" + length_text(bend.radius, show)}});
    const bool level = std::abs(bend.a.y - bend.b.y) < kSame;
    const bool upright = std::abs(bend.a.x - bend.b.x) < kSame;
    gather(tasks, words,
           level     ? "Y " + length_text(bend.a.y, show)
           : upright ? "X " + length_text(bend.a.x, show)
                     : xy(bend.a, show) + " – " + xy(bend.b, show));
  }
  return tasks;
}

struct Positions {
  std::vector<double> x;
  std::vector<double> y;
};

Positions positions_of(const PanelStudy& panel) {
  Positions p;
  const auto add = [&](Vec2 at) {
    p.x.push_back(at.x);
    p.y.push_back(at.y);
  };
  // Bends first: what lies too near to another place is left out of the picture.
  for (const BendMark& bend : panel.bends) {
    if (std::abs(bend.a.y - bend.b.y) > kSame) p.x.push_back(bend.a.x);
    if (std::abs(bend.a.x - bend.b.x) > kSame) p.y.push_back(bend.a.y);
    if (slanted(bend.a, bend.b)) add(bend.b);
  }
  for (const PanelHole& hole : panel.holes) {
    // A hole in an edge has its place along that edge alone.
    if (hole.face == "left" || hole.face == "right")
      p.y.push_back(hole.at.y);
    else if (hole.face.size() > 1)
      p.x.push_back(hole.at.x);
    else
      add(hole.at);
  }
  for (const CutMark& cut : panel.cuts) {
    if (is_within_another(cut, panel.cuts)) continue;
    if (cut.round) {
      add(cut.area.centre());
      continue;
    }
    add(cut.area.lo);
    add(cut.area.hi);
  }
  for (const CornerMark& corner : panel.corners) add(corner.at);
  return p;
}

/// Without those that come nearer than `apart` to one before: their lines would be one. Corners
/// come last, since all of them stand in a list of their own.
std::vector<double> told_apart(const std::vector<double>& positions, double apart) {
  std::vector<double> told;
  for (const double at : positions) {
    const bool near = std::ranges::any_of(told, [&](double other) {
      return std::abs(other - at) > kSame && std::abs(other - at) < apart;
    });
    if (!near) told.push_back(at);
  }
  return told;
}

/// A hole into an edge, as deep as it goes.
void add_edge_hole(Drawing& d, const PanelStudy& panel, const PanelHole& hole,
                   const ViewPlace& place) {
  const Vec3 way = hole.bore.direction;
  const Vec2 in = Vec2{dot(way, panel.view.right), dot(way, panel.view.up)} * hole.bore.depth;
  const Vec2 end = hole.at + in;
  d.lines.push_back({{place.x.paper(hole.at.x), place.y.paper(hole.at.y)},
                     {place.x.paper(end.x), place.y.paper(end.y)},
                     kBenchPens.hidden(),
                     -1,
                     false,
                     place.view});
}

std::optional<std::string> draw_panel(Drawing& d, const Part& part, const PanelStudy& panel,
                                      Vec2 corner, double width, const PictureTry& attempt,
                                      LengthStyle show) {
  const DimensionStyle style{.height = attempt.letters,
                             .first = 9.0,
                             .pitch = attempt.letters + 4.0,
                             .pen = kBenchPens.thin(),
                             .show = show};
  const Positions positions = positions_of(panel);
  const double tallest = std::min(kTallest, width / 2);
  // As large as it will be at most; the room that positions take makes it a little smaller.
  const double largest = std::min(width / panel.width(), tallest / panel.height());
  const double apart = kToldApart / largest;
  AxisPlan across{ViewSide::bottom, 0.0, panel.width(), true, {}};
  AxisPlan up{ViewSide::left, 0.0, panel.height(), true, {}};
  if (attempt.across) across.positions = told_apart(positions.x, apart);
  if (attempt.up) up.positions = told_apart(positions.y, apart);
  const double left = depth_of(up, style) + 3.0;
  const double above = part.stock.grain ? 16.0 : 4.0;  // the grain may have no room on the face
  const double scale = std::min((width - left - 16.0) / panel.width(), tallest / panel.height());
  const Vec2 lo{corner.x + left, corner.y - above - panel.height() * scale};
  const ViewPlace place =
      open_view(d, place_view({{0, 0}, {panel.width(), panel.height()}}, scale, lo));
  add_view(d, face_lines(part, panel, scale, false), place, kBenchPens.visible(),
           kBenchPens.hidden());
  const auto paper = [&](Vec2 p) { return Vec2{place.x.paper(p.x), place.y.paper(p.y)}; };
  for (const BendMark& bend : panel.bends)
    add_line(d, paper(bend.a), paper(bend.b), kBenchPens.centre());
  for (const PanelHole& hole : panel.holes) {
    if (hole.face.size() > 1)
      add_edge_hole(d, panel, hole, place);
    else
      add_hole_mark(d, paper(hole.at), hole.bore.diameter / 2 * scale, hole.bore, hole.face == "B",
                    place.view);
  }
  add_hook(d, place.outline.lo);
  if (!add_axis_dimensions(d, place, {across, up}, style)) return std::nullopt;
  std::vector<Rect> gone;
  for (const CutMark& cut : panel.cuts) {
    if (cut.through) gone.push_back({paper(cut.area.lo), paper(cut.area.hi)});
  }
  if (part.stock.grain && !add_grain(d, place, panel.upright, kFigure, gone)) return std::nullopt;
  add_pose(d, place, panel.up, kFigure, gone);
  if (!attempt.across || !attempt.up) return say("bench.list_only");
  if (across.positions.size() == positions.x.size() && up.positions.size() == positions.y.size())
    return std::string();
  return say("bench.near_list_only", {{"size", length_text(std::ceil(apart), show)}});
}

}  // namespace

Card panel_card(const Layout& layout, const PartType& type) {
  const Part& part = layout.parts[type.parts.front()];
  const LengthStyle show = layout.project.show;
  const PanelStudy panel = study_panel(layout, part);
  Card card;
  card.type = &type;
  card.size = length_text(part.stock.length, show) + " × " + length_text(part.stock.width, show);
  const bool rectangle = panel.corners.empty() && !panel.round;
  if (rectangle && std::min(panel.width(), panel.height()) >= kNoDiagonal)
    card.diagonal = length_text(std::hypot(panel.width(), panel.height()), show);
  for (const auto& more :
       {cut_tasks(panel, show), hole_tasks(panel, show), bend_tasks(panel, show)})
    card.tasks.insert(card.tasks.end(), more.begin(), more.end());
  if (!panel.corners.empty()) {
    Task outline{say("bench.outline"), {}};
    for (const CornerMark& corner : panel.corners) {
      outline.items.push_back(xy(corner.at, show) + (corner.radius > 0.0
                                                         ? "  R" + length_text(corner.radius, show)
                                                         : ""));
    }
    card.tasks.insert(card.tasks.begin(), std::move(outline));
  }
  if (panel.round) {
    card.tasks.insert(
        card.tasks.begin(),
        Task{say("bench.round", {{"diameter", "Ø" + length_text(panel.width(), show)}}), {}});
  }
  for (const std::string& note : finish_notes(layout, part, panel)) {
    if (note.find(say("finish.none")) == std::string::npos) card.tasks.push_back({note, {}});
  }
  card.notes.push_back(face_note(layout, type, panel) +
                       (card.diagonal.empty() ? "" : " " + say("bench.both_diagonals")) +
                       (part.flat ? " " + say("bench.blank") : ""));
  const bool behind =
      std::ranges::any_of(panel.holes, [](const PanelHole& h) { return h.face == "B"; }) ||
      std::ranges::any_of(panel.cuts, [](const CutMark& c) { return !c.front && !c.in_edge; });
  if (!panel.round && !has_datum_corner(panel)) card.notes.push_back(say("note.from_rectangle"));
  if (behind) card.notes.push_back(say("bench.through_board"));
  if (std::ranges::any_of(panel.cuts, is_sharp)) card.notes.push_back(say("note.sharp"));
  if (std::ranges::any_of(panel.holes, starts_in_cut)) card.notes.push_back(say("note.from_floor"));
  if (has_edge_band(layout, part)) card.notes.push_back(say("note.bare"));
  card.picture = [&part, panel, show](Drawing& d, Vec2 corner, double width,
                                      const PictureTry& attempt) {
    return draw_panel(d, part, panel, corner, width, attempt, show);
  };
  return card;
}

}  // namespace ribbay::detail
