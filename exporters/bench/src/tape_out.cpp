#include "bench/tape_out.hpp"

#include "base/wording.hpp"
#include "drawings/lettering.hpp"
#include "drawings/views.hpp"
#include "print_page.hpp"
#include "tape_points.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

namespace ribbay {

namespace {

using namespace detail;

constexpr double kOnFloor = 60.0;   ///< modules that begin lower are marked out on the floor, mm
constexpr double kApart = 2.6;      ///< numbers of corners, not to be read as one, mm
constexpr double kTapeAbove = 5.0;  ///< the lowest edge, mm
constexpr long long kPlumbed = -1;  ///< comes before all heights

/// A module with what a tape sees of it.
struct Standing {
  const Module* module = nullptr;
  std::vector<const Part*> made;
  Footprint print;
  Box box;
  bool on_van = false;             ///< stands on the floor or is fixed to the van
  const Module* within = nullptr;  ///< what it stands in
};

bool lies_within(const Box& a, const Box& b) {
  constexpr double hair = 1.0;
  for (int axis = 0; axis < 3; ++axis) {
    if (a.lo[axis] < b.lo[axis] - hair || a.hi[axis] > b.hi[axis] + hair) return false;
  }
  return true;
}

/// All modules that are made, in the order of the file.
std::vector<Standing> all_modules(const Layout& layout) {
  std::vector<Standing> all;
  for (const Module& module : layout.modules) {
    Standing s;
    s.module = &module;
    bool joined = false;
    for (const Part& part : layout.parts) {
      if (part.module != module.name || !is_made(part.kind)) continue;
      s.made.push_back(&part);
      s.box.add(bounds(part));
    }
    if (s.made.empty()) continue;
    for (const Joint& joint : layout.joints) {
      const auto has = [&](auto&& wanted) { return std::ranges::any_of(joint.parts, wanted); };
      joined =
          joined || (has([&](const std::string& id) { return id.starts_with("vehicle/"); }) &&
                     has([&](const std::string& id) { return id.starts_with(module.name + "/"); }));
    }
    s.on_van = s.box.lo.z <= kOnFloor || joined;
    s.print = footprint(s.made);
    all.push_back(std::move(s));
  }
  for (Standing& s : all) {
    for (const Standing& other : all) {
      if (&other != &s && other.on_van && lies_within(s.box, other.box)) s.within = other.module;
    }
  }
  return all;
}

/// Whether `s` rests on another module that is taped: over it, within a shim's height.
bool stands_on(const Standing& s, const Standing& other) {
  constexpr double shim = 10.0;
  return &other != &s && other.on_van && other.within == nullptr &&
         std::abs(s.box.lo.z - other.box.hi.z) < shim && s.box.lo.x < other.box.hi.x &&
         s.box.hi.x > other.box.lo.x && s.box.lo.y < other.box.hi.y && s.box.hi.y > other.box.lo.y;
}

/// 0 for what stands on the floor, else its height in mm.
long long level_of(double height) {
  return height <= kOnFloor ? 0 : std::llround(height);
}

/// What is taped from the van, the lowest first.
std::vector<Standing> standing_modules(const Layout& layout) {
  std::vector<Standing> all = all_modules(layout);
  std::erase_if(all, [](const Standing& s) {
    return !s.on_van || s.within != nullptr || s.print.corners.size() != 4;
  });
  std::ranges::stable_sort(all, {}, [](const Standing& s) { return level_of(s.box.lo.z); });
  return all;
}

/// To the mm, or to 1/16 in: what a tape tells.
std::string tape_text(double mm, LengthStyle show) {
  const double step = show == LengthStyle::inches ? 25.4 / 16.0 : 1.0;
  return length_text(std::round(mm / step) * step, show);
}

std::string height_text(double height, LengthStyle show) {
  return height < 0.5 ? say("tape.on_floor")
                      : say("tape.above_floor", {{"height", tape_text(height, show)}});
}

/// The title that all corners share, or nothing.
std::string corners_of(const TapedModule& module) {
  const std::string& first = module.corners.front().of;
  const bool same =
      std::ranges::all_of(module.corners, [&](const TapedCorner& c) { return c.of == first; });
  return same ? first : std::string();
}

/// Where something begins and ends along the van, from the rear edge of its load floor.
std::string along_text(const TapedModule& m, LengthStyle show) {
  const auto [lo, hi] =
      std::ranges::minmax_element(m.corners, {}, [](const TapedCorner& c) { return c.at.x; });
  return say("tape.along",
             {{"rear", tape_text(lo->at.x, show)}, {"front", tape_text(hi->at.x, show)}});
}

/// Its diagonals halve each other and are alike, as far as a tape tells.
bool is_rectangle(const TapedModule& m) {
  constexpr double told = 1.0;  // mm
  const Vec3 one = m.corners[2].at - m.corners[0].at;
  const Vec3 other = m.corners[3].at - m.corners[1].at;
  const Vec3 between = (m.corners[0].at + m.corners[2].at) - (m.corners[1].at + m.corners[3].at);
  return length(between) / 2 < told && std::abs(length(one) - length(other)) < told;
}

std::string task_text(const TapedModule& m, LengthStyle show) {
  std::string text = m.title + ", " + height_text(m.height, show);
  if (m.plumbed) text += ", " + say("tape.plumbed") + ", " + along_text(m, show);
  if (const std::string of = corners_of(m); !of.empty())
    text += ", " + say("tape.corners_of", {{"part", of}});
  if (!is_rectangle(m)) text += ", " + say("tape.no_rectangle");
  return text + ":";
}

/// A place of the van, not a corner or a wall.
bool is_letter(const std::string& name) {
  return name.size() == 1 && name.front() >= 'A' && name.front() <= 'Z';
}

/// The room at a height, seen from above.
std::vector<Vec2> room_outline(const Vehicle& van, double z) {
  std::vector<Vec2> line;
  for (const Station& s : van.stations) {
    if (const auto y = wall_y(van, VanSide::left, s.x, z)) line.push_back({s.x, *y});
  }
  for (auto s = van.stations.rbegin(); s != van.stations.rend(); ++s) {
    if (const auto y = wall_y(van, VanSide::right, s->x, z)) line.push_back({s->x, *y});
  }
  return line;
}

/// Draws the plan from the upper edge of what is free on the page; its height.
double draw_plan(Pager& pages, const Vehicle& van, const std::vector<const TapedModule*>& modules,
                 const std::map<std::string, TapePoint>& points, double z) {
  Drawing& d = pages.page();
  const std::vector<Vec2> room = room_outline(van, z);
  std::vector<Vec2> all = room;
  for (const auto& [name, point] : points) {
    if (is_letter(name)) all.push_back({point.at.x, point.at.y});
  }
  for (const TapedModule* m : modules) {
    for (const TapedCorner& c : m->corners) all.push_back({c.at.x, c.at.y});
    for (const std::vector<Vec2>& outline : m->outlines)
      all.insert(all.end(), outline.begin(), outline.end());
  }
  Rect picture{all.front(), all.front()};
  for (const Vec2 p : all) {
    picture.lo = {std::min(picture.lo.x, p.x), std::min(picture.lo.y, p.y)};
    picture.hi = {std::max(picture.hi.x, p.x), std::max(picture.hi.y, p.y)};
  }
  constexpr double border = 12.0;
  const double scale =
      std::min((pages.width() - 2 * border) / picture.width(), 110.0 / picture.height());
  const double height = picture.height() * scale;
  const ViewPlace place = open_view(
      d, place_view(picture, scale, {pages.left() + border, pages.y() - border - height}));
  const auto paper = [&](Vec2 p) { return Vec2{place.x.paper(p.x), place.y.paper(p.y)}; };
  const auto draw = [&](const std::vector<Vec2>& line, Pen pen) {
    for (std::size_t i = 0; i < line.size(); ++i)
      d.lines.push_back(
          {paper(line[i]), paper(line[(i + 1) % line.size()]), pen, -1, false, place.view});
  };
  draw(room, kBenchPens.thin());
  for (const WheelArch& arch : van.arches) {
    if (arch.height < z) continue;
    const double sign = arch.side == VanSide::left ? 1.0 : -1.0;
    const double out =
        wall_y(van, arch.side, (arch.from + arch.to) / 2, z).value_or(sign * arch.half_width);
    draw({{arch.from, sign * arch.half_width},
          {arch.to, sign * arch.half_width},
          {arch.to, out},
          {arch.from, out}},
         kBenchPens.context());
  }
  for (const TapedModule* m : modules) {
    for (const std::vector<Vec2>& outline : m->outlines) draw(outline, kBenchPens.visible());
  }
  const Rect below{d.frame.lo, {d.frame.hi.x, place.outline.lo.y - border + 2.0}};
  const Vec2 arrow = place.outline.hi + Vec2{0.0, border - 6.0};
  const std::string forward = say("forward");
  const double words = text_width(forward, kWord);
  add_text(d, forward, {arrow.x - 16.0 - words, arrow.y - 1.5}, kWord);
  add_line(d, arrow - Vec2{14.0, 0.0}, arrow, kBenchPens.thin());
  add_arrow(d, arrow, {1, 0});
  for (const auto& [name, point] : points) {
    if (is_letter(name)) add_dot(d, paper({point.at.x, point.at.y}), 1.3);
  }
  for (const auto& [name, point] : points) {
    if (is_letter(name)) add_label(d, paper({point.at.x, point.at.y}), name, kBig, 14.0);
  }
  for (const TapedModule* m : modules) {
    for (const TapedCorner& c : m->corners) add_dot(d, paper({c.at.x, c.at.y}), 0.6);
  }
  for (const TapedModule* m : modules) {
    for (const TapedCorner& c : m->corners) {
      const Vec2 at = paper({c.at.x, c.at.y});
      const std::string number = std::to_string(c.number);
      // Beside its dot, else with a leader: two corners may be one dot on paper.
      if (!add_callout(d, at, number, kFigure, kBenchPens.thin(), {below}, false))
        add_label(d, at, number, kFigure, 24.0, {}, kApart);
    }
  }
  for (const TapedModule* m : modules) {
    Vec2 middle{};
    for (const TapedCorner& c : m->corners) middle = middle + Vec2{c.at.x, c.at.y} * 0.25;
    if (!add_label(d, paper(middle), m->title, kFigure, 3.0))
      add_callout(d, paper(middle), m->title, kFigure, kBenchPens.thin(), {below}, true);
  }
  return height + 2 * border;
}

/// True when a corner was placed by a tape from the other: to measure that again proves nothing.
bool taped_from(const TapedCorner& corner, const TapedCorner& other) {
  return std::ranges::find(corner.points, std::to_string(other.number), &TapePoint::name) !=
         corner.points.end();
}

std::vector<std::string> corner_items(const TapedModule& module, LengthStyle show) {
  std::vector<std::string> items;
  const bool own = corners_of(module).empty();
  // As corners follow each other.
  constexpr std::array places{"tape.corner_rear_right", "tape.corner_front_right",
                              "tape.corner_front_left", "tape.corner_rear_left"};
  for (std::size_t i = 0; i < module.corners.size(); ++i) {
    const TapedCorner& c = module.corners[i];
    std::string text = std::to_string(c.number);
    if (own) text += " " + say(places[i], {{"part", c.of}});
    text += ":";
    for (const TapePoint& p : c.points)
      text += "   " + p.name + " = " + tape_text(length(p.at - c.at), show);
    items.push_back(c.points.empty() ? text + "  " + say("tape.out_of_reach") : text);
  }
  for (std::size_t i = 0; i < 2; ++i) {
    const TapedCorner& a = module.corners[i];
    const TapedCorner& b = module.corners[i + 2];
    if (taped_from(a, b) || taped_from(b, a)) continue;
    items.push_back(std::to_string(a.number) + " – " + std::to_string(b.number) + "  (" +
                    tape_text(length(a.at - b.at), show) + ")");
  }
  return items;
}

std::string hosted_text(const HostedModule& m, const std::string& host, LengthStyle show) {
  return say("tape.hosted",
             {{"module", m.title}, {"host", host}, {"height", height_text(m.height, show)}});
}

std::vector<std::string> hosted_items(const HostedModule& m, LengthStyle show) {
  const auto item = [&](const char* side, double mm) {
    return say(side, {{"size", tape_text(mm, show)}});
  };
  return {item("tape.from_rear", m.rear), item("tape.from_front", m.front),
          item("tape.from_right", m.right), item("tape.from_left", m.left)};
}

void add_level(std::vector<SetPage>& out, const Layout& layout, const BenchOptions& options,
               const std::vector<const TapedModule*>& modules) {
  const LengthStyle show = layout.project.show;
  const bool plumbed = modules.front()->plumbed;
  const double z = (plumbed ? 0.0 : modules.front()->height) + kTapeAbove;
  std::map<std::string, TapePoint> points;
  for (const TapedModule* m : modules) {
    for (const TapedCorner& c : m->corners) {
      for (const TapePoint& p : c.points) points.emplace(p.name, p);
    }
  }
  Pager pages(layout, options, say("bench.tape_out"), "tape-out", say("file.tape_out"));
  pages.down(draw_plan(pages, *layout.vehicle, modules, points, z) + 2.0);
  std::string key;
  for (const auto& [name, point] : points) {
    if (is_letter(name)) key += (key.empty() ? "" : "; ") + name + " " + point.what;
  }
  const std::vector<std::string> notes{key + ".", say(plumbed ? "tape.note_plumbed" : "tape.note")};
  for (const std::string& note : notes) {
    pages.down(add_notes(pages.page(), {note}, {pages.left(), pages.y()}, pages.width(), kWord) +
               1.5);
  }
  pages.down(2.0);
  for (const TapedModule* m : modules) {
    add_task(pages, {task_text(*m, show), corner_items(*m, show)}, m->title);
    for (const HostedModule& hosted : hosted_modules(layout)) {
      if (hosted.host == m->module)
        add_task(pages, {hosted_text(hosted, m->title, show), hosted_items(hosted, show)},
                 hosted.title);
    }
  }
  for (SetPage& page : pages.take()) out.push_back(std::move(page));
}

bool within_reach(const TapedModule& m) {
  return std::ranges::any_of(m.corners, [](const TapedCorner& c) { return !c.points.empty(); });
}

/// The same corners, straight below on the floor of the empty van.
TapedModule plumbed(const Vehicle& van, TapedModule m) {
  const Obstacles obstacles = obstacles_of(van);
  std::vector<TapePoint> points = van_points(van, kTapeAbove);
  const std::size_t of_van = points.size();
  m.plumbed = true;
  for (TapedCorner& corner : m.corners) {
    corner.at.z = kTapeAbove;
    corner.points = best_pair(points, of_van, obstacles, corner.at);
    if (!corner.points.empty())
      points.push_back({std::to_string(corner.number), m.title, corner.at});
  }
  return m;
}

}  // namespace

namespace {

/// Tapes modules one after another; those before stand.
class TapingOut {
 public:
  explicit TapingOut(const Vehicle& van) : van_(van), obstacles_(obstacles_of(van)) {}

  TapedModule tape(const Standing& s) {
    TapedModule m{s.module->name,
                  s.module->title.empty() ? s.module->name : s.module->title,
                  s.box.lo.z,
                  false,
                  {},
                  s.print.outlines};
    const double z = m.height + kTapeAbove;
    std::vector<TapePoint> points = points_at(z);
    const std::size_t of_van = van_points(van_, z).size();
    for (const Footprint::Corner& corner : s.print.corners) {
      const Vec3 at{corner.at.x, corner.at.y, z};
      TapedCorner taped{++number_, at, corner.part->title,
                        best_pair(points, of_van, obstacles_, at)};
      if (taped.points.empty()) taped.points = along_wall(points, van_, obstacles_, at);
      if (!taped.points.empty()) points.push_back({std::to_string(number_), m.title, at});
      m.corners.push_back(std::move(taped));
    }
    if (!within_reach(m)) return plumbed(van_, std::move(m));
    return m;
  }

  void stand(const Standing& s, const TapedModule& m) {
    for (const Part* part : s.made) obstacles_.add(*part);
    if (!m.plumbed) before_.emplace_back(&s, m);
  }

 private:
  /// The van's, and the corners that stand and reach to that height.
  std::vector<TapePoint> points_at(double z) const {
    std::vector<TapePoint> points = van_points(van_, z);
    for (const auto& [standing, m] : before_) {
      for (std::size_t i = 0; i < m.corners.size(); ++i) {
        const TapedCorner& c = m.corners[i];
        if (!c.points.empty() && reaches(standing->print.corners[i], z))
          points.push_back({std::to_string(c.number), m.title, {c.at.x, c.at.y, z}});
      }
    }
    return points;
  }

  const Vehicle& van_;
  Obstacles obstacles_;
  std::vector<std::pair<const Standing*, TapedModule>> before_;
  int number_ = 0;
};

}  // namespace

std::vector<TapedModule> taped_modules(const Layout& layout) {
  std::vector<TapedModule> taped;
  if (!layout.vehicle) return taped;
  std::vector<Standing> modules = standing_modules(layout);
  // What no tape reaches is marked before anything stands, so it comes first and gets the first
  // numbers.
  TapingOut trial(*layout.vehicle);
  std::map<const Module*, bool> is_plumbed;
  for (const Standing& s : modules) {
    const TapedModule m = trial.tape(s);
    is_plumbed[s.module] = m.plumbed;
    trial.stand(s, m);
  }
  std::ranges::stable_partition(modules, [&](const Standing& s) { return is_plumbed[s.module]; });
  TapingOut taping(*layout.vehicle);
  for (const Standing& s : modules) {
    TapedModule m = taping.tape(s);
    if (is_plumbed[s.module] && !m.plumbed) m = plumbed(*layout.vehicle, std::move(m));
    taping.stand(s, m);
    taped.push_back(std::move(m));
  }
  return taped;
}

std::vector<HostedModule> hosted_modules(const Layout& layout) {
  std::vector<HostedModule> hosted;
  if (!layout.vehicle) return hosted;
  const std::vector<Standing> all = all_modules(layout);
  for (const Standing& s : all) {
    const auto host = std::ranges::find_if(all, [&](const Standing& other) {
      return s.within != nullptr ? other.module == s.within : stands_on(s, other);
    });
    if ((s.on_van && s.within == nullptr) || host == all.end()) continue;
    hosted.push_back({s.module->name, s.module->title.empty() ? s.module->name : s.module->title,
                      host->module->name, s.box.lo.z, s.box.lo.x - host->box.lo.x,
                      host->box.hi.x - s.box.hi.x, s.box.lo.y - host->box.lo.y,
                      host->box.hi.y - s.box.hi.y});
  }
  return hosted;
}

std::vector<SetPage> tape_out(const Layout& layout, const BenchOptions& options) {
  std::vector<SetPage> pages;
  if (!layout.vehicle) return pages;
  const std::vector<TapedModule> modules = taped_modules(layout);
  // The floor first, then each height of its own.
  std::map<long long, std::vector<const TapedModule*>> levels;
  for (const TapedModule& m : modules)
    levels[m.plumbed ? kPlumbed : level_of(m.height)].push_back(&m);
  for (const auto& [height, level] : levels) {
    if (std::ranges::any_of(level, [](const TapedModule* m) { return within_reach(*m); }))
      add_level(pages, layout, options, level);
  }
  return pages;
}

}  // namespace ribbay
