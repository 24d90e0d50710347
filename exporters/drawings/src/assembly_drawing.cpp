#include "assembly_drawing.hpp"

#include "balloons.hpp"
#include "base/tolerance.hpp"
#include "drawings/lettering.hpp"
#include "scene.hpp"
#include "views.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace ribbay::detail {

namespace {

constexpr double kLetters = 2.5;
constexpr double kSameStation = 0.5;  // positions closer than this print as one, mm
constexpr std::size_t kMostStations = 10;

struct Contents {
  std::vector<std::size_t> made;  ///< members, panels and hardware, indices into Layout::parts
  std::vector<std::size_t> equipment;
  Box box;  ///< of the made parts
};

Contents contents_of(const Layout& layout, const Module& module) {
  Contents c;
  for (std::size_t i = 0; i < layout.parts.size(); ++i) {
    const Part& part = layout.parts[i];
    if (part.module != module.name) continue;
    if (part.kind == PartKind::equipment) {
      c.equipment.push_back(i);
      continue;
    }
    c.made.push_back(i);
    if (part.kind != PartKind::hardware) c.box.add(bounds(part));
  }
  return c;
}

/// The mark of each made part.
std::map<std::size_t, std::string> marks_of(const PageSet& set) {
  std::map<std::size_t, std::string> marks;
  for (const PartType& type : set.types) {
    for (const std::size_t part : type.parts) marks[part] = type.mark;
  }
  return marks;
}

Table parts_list(const PageSet& set, const Module& module) {
  Table table;
  // Fields of ISO 7573 (from memory): item reference, quantity, description, material, technical
  // data.
  table.columns = {{"Ref", 12},  {"Qty", 10, Align::right},    {"Name", 44}, {"Stock", 46},
                   {"Size", 48}, {"kg each", 20, Align::right}};
  for (const PartType& type : set.types) {
    std::size_t count = 0;
    for (const std::size_t i : type.parts)
      count += set.layout.parts[i].module == module.name ? 1 : 0;
    if (count == 0) continue;
    const auto first = std::ranges::find_if(
        type.parts, [&](std::size_t i) { return set.layout.parts[i].module == module.name; });
    const Part& part = set.layout.parts[*first];
    table.rows.push_back({type.mark, std::to_string(count), part.title,
                          stock_title(set.layout, part), size_text(set.layout, part),
                          rounded_text(part.mass_kg, part.mass_kg < 1.0 ? 3 : 2)});
  }
  return table;
}

/// Bought things, counted by stock key.
Table bought_list(const PageSet& set, const Module& module) {
  Table table;
  table.columns = {{"Qty", 22, Align::right}, {"Hardware and equipment", 102}, {"Stock key", 56}};
  std::map<std::string, std::pair<std::size_t, std::string>> counted;
  for (const Part& part : set.layout.parts) {
    if (part.module != module.name || part.kind == PartKind::member || part.kind == PartKind::panel)
      continue;
    auto& entry = counted[part.stock.key];
    ++entry.first;
    if (entry.second.empty()) entry.second = stock_title(set.layout, part);
  }
  for (const auto& [key, entry] : counted)
    table.rows.push_back({std::to_string(entry.first), entry.second, key});
  return table;
}

/// Positions along one axis of a view, from the parts' edges: of members and panels that stand
/// across it. At most `most`, those that carry most material first.
std::vector<double> stations(const Layout& layout, const Contents& contents, Vec3 axis, bool upper,
                             std::size_t most) {
  struct Station {
    double at;
    double weight;
  };
  std::vector<Station> found;
  std::vector<std::pair<double, double>>
      thin;  // of panels across the axis: their station, their other face
  for (const std::size_t index : contents.made) {
    const Part& part = layout.parts[index];
    if (part.kind == PartKind::hardware) continue;
    const Box box = bounds(part);
    const double a = dot(box.lo, axis);
    const double b = dot(box.hi, axis);
    const double lo = std::min(a, b);
    const double hi = std::max(a, b);
    const Vec3 size = box.size();
    const double longest = std::max({size.x, size.y, size.z});
    // What runs along the axis has its ends on others; what stands across it has a position.
    if (hi - lo > 0.6 * longest) continue;
    if (part.kind == PartKind::panel && hi - lo < 0.2 * longest)
      thin.emplace_back(upper ? hi : lo, upper ? lo : hi);
    found.push_back({upper ? hi : lo, longest * (part.kind == PartKind::member ? 4.0
                                                 : hi - lo < 0.2 * longest     ? 2.0
                                                                               : 1.0)});
  }
  std::ranges::stable_sort(found, {}, &Station::at);
  std::vector<Station> merged;
  for (const Station& s : found) {
    if (!merged.empty() && s.at - merged.back().at < kSameStation) {
      merged.back().weight += s.weight;
    } else {
      merged.push_back(s);
    }
  }
  std::ranges::stable_sort(merged,
                           [](const Station& a, const Station& b) { return a.weight > b.weight; });
  if (merged.size() > most) merged.resize(most);
  std::vector<double> out;
  for (const Station& s : merged) out.push_back(s.at);
  std::ranges::sort(out);
  return out;
}

/// Positions relative to `origin`, without what lies at or beyond the ends.
AxisPlan axis_plan(ViewSide side, const Rect& picture, bool horizontal,
                   const std::vector<double>& at) {
  const double lo = horizontal ? picture.lo.x : picture.lo.y;
  const double hi = horizontal ? picture.hi.x : picture.hi.y;
  AxisPlan plan{side, lo, hi, true, {}};
  for (const double p : at) {
    if (p > lo + kSameStation && p < hi - kSameStation) plan.positions.push_back(p);
  }
  return plan;
}

/// Owner indices of bodies in the drawing's list of part ids.
std::vector<int> owners_of(Drawing& d, const Layout& layout, const SceneBodies& scene) {
  std::vector<int> owners;
  for (const std::size_t part : scene.part) {
    owners.push_back(static_cast<int>(d.owners.size()));
    d.owners.push_back(layout.parts[part].id);
  }
  return owners;
}

/// The largest free spot for a `size` rectangle, scanned from the upper right.
std::optional<Vec2> free_spot(const Drawing& d, const Rect& area, Vec2 size) {
  constexpr double step = 4.0;
  for (double y = area.hi.y - size.y - 4.0; y >= area.lo.y + 4.0; y -= step) {
    for (double x = area.hi.x - size.x - 4.0; x >= area.lo.x + 4.0; x -= step) {
      if (is_free(d, {{x, y}, {x + size.x, y + size.y}}, 3.0)) return Vec2{x, y};
    }
  }
  return std::nullopt;
}

struct Views {
  ViewPlace front;
  ViewPlace top;
  ViewPlace side;
};

/// Balloons on the isometric view for every mark that it shows; returns the marks that it does not.
std::optional<std::vector<std::string>> add_isometric(Drawing& d, const PageSet& set,
                                                      const Contents& contents,
                                                      const ViewFrame& view, double largest,
                                                      const Rect& area) {
  const auto marks = marks_of(set);
  std::set<std::string> wanted;
  for (const std::size_t i : contents.made) {
    if (marks.contains(i)) wanted.insert(marks.at(i));
  }
  const Rect picture = seen_box(contents.box, view);
  const double columns = std::ceil(static_cast<double>(wanted.size()) / 2.0) * kBalloonPitch;
  for (int smaller = 0; smaller < 4; ++smaller) {
    const double scale = smaller_scale(largest, smaller);
    const double height = std::max(picture.height() * scale, columns) + 10.0;
    const auto spot = free_spot(d, area, {picture.width() * scale + 2 * kBalloonRoom, height});
    if (!spot) continue;
    const SceneBodies scene = scene_of(set.layout, contents.made, scale);
    const Drawn drawn = visible_lines(scene.bodies, view, {.shortest = 0.3 / scale});
    const Vec2 corner =
        *spot + Vec2{kBalloonRoom, 8.0 + (height - 10.0 - picture.height() * scale) / 2};
    const ViewPlace place = place_view(picture, scale, corner);
    std::vector<Balloon> balloons;
    std::set<std::string> shown;
    for (std::size_t b = 0; b < scene.bodies.size(); ++b) {
      const auto mark = marks.find(scene.part[b]);
      if (mark == marks.end() || shown.contains(mark->second)) continue;
      const auto point = seen_point(scene.bodies, b, view);
      if (!point) continue;
      shown.insert(mark->second);
      balloons.push_back({mark->second, {place.x.paper(point->x), place.y.paper(point->y)}});
    }
    if (!add_balloons(d, place.outline, balloons, spot->y + 8.0, spot->y + height, kGroup35.thin()))
      return std::nullopt;
    add_view(d, drawn, place, kGroup35.visible(), kGroup35.hidden(),
             owners_of(d, set.layout, scene));
    add_text(d, "Isometric view " + scale_text(scale), {place.outline.centre().x, spot->y + 1.5},
             3.5, Align::centre);
    std::vector<std::string> missing;
    std::ranges::set_difference(wanted, shown, std::back_inserter(missing));
    return missing;
  }
  return std::nullopt;
}

/// Parts that no view shows: their outlines in the front view, dashed, each with its balloon.
bool add_hidden_parts(Drawing& d, const PageSet& set, const Contents& contents,
                      const std::vector<std::string>& missing, const ViewFrame& view,
                      const ViewPlace& place, double scale) {
  const auto marks = marks_of(set);
  for (const std::string& mark : missing) {
    const auto part = std::ranges::find_if(
        contents.made, [&](std::size_t i) { return marks.contains(i) && marks.at(i) == mark; });
    const SceneBodies scene = scene_of(set.layout, {*part}, scale);
    const Drawn drawn = visible_lines(scene.bodies, view, {.shortest = 0.3 / scale});
    add_view(d, drawn, place, kGroup35.hidden(), kGroup35.hidden(),
             owners_of(d, set.layout, scene));
    // On its outline: inside it, the dot would seem to point at what lies in front.
    const DrawnLine* longest = nullptr;
    for (const DrawnLine& l : drawn.lines) {
      if (longest == nullptr || length(l.b - l.a) > length(longest->b - longest->a) + kSame)
        longest = &l;
    }
    if (longest == nullptr) continue;
    const Vec2 middle = longest->a + (longest->b - longest->a) * 0.37;
    if (!add_balloon(d, {mark, {place.x.paper(middle.x), place.y.paper(middle.y)}}, place.outline,
                     kGroup35.thin()))
      return false;
  }
  return true;
}

}  // namespace

std::size_t list_rows(const PageSet& set, const Module& module) {
  const std::size_t parts = parts_list(set, module).rows.size();
  const std::size_t bought = bought_list(set, module).rows.size();
  return parts + 1 + (bought > 0 ? bought + 1 : 0);
}

std::optional<Drawing> assembly_drawing(const PageSet& set, const Module& module, PageSize page,
                                        double scale, bool lists) {
  const Layout& layout = set.layout;
  const Contents contents = contents_of(layout, module);
  if (contents.box.empty()) return std::nullopt;
  TitleBlock block = title_block(set);
  block.title = module.title.empty() ? module.name : module.title;
  block.subtitle = layout.project.title;
  block.number = document_number(set, module.name);
  block.type = "Assembly drawing";
  block.material = "see parts list";
  block.stock = "see parts list";
  block.finish = "see parts list";
  double mass = 0.0;
  for (const std::size_t i : contents.made) mass += layout.parts[i].mass_kg;
  block.mass = mass_text(mass);
  block.quantity = "1";
  block.scale = scale_text(scale);
  block.sheet = lists ? "1/1" : "1/" + std::to_string(list_pages(set, module).size() + 1);
  Drawing d = open_page(set, page, block);
  const Rect area = usable_area(d, set.not_for_cutting);

  if (lists) {
    Table parts = parts_list(set, module);
    parts.upwards = true;
    double foot = title_area(d).hi.y;
    for (Table table : {parts, bought_list(set, module)}) {
      if (table.rows.empty()) continue;
      const Rect box{{title_area(d).lo.x, foot}, {title_area(d).hi.x, foot + table.total_height()}};
      if (box.hi.y > area.hi.y) return std::nullopt;
      add_table(d, table, {box.lo.x, box.hi.y});
      d.reserved.push_back(box);
      foot = box.hi.y + 4.0;
    }
  }

  // The three views by the projection method; see looks_at().
  const bool first_angle = layout.project.first_angle;
  const Looks looks = looks_at(module.front, first_angle);
  const Rect front = seen_box(contents.box, looks.front);
  const Rect top = seen_box(contents.box, looks.top);
  const Rect side = seen_box(contents.box, looks.side);
  const DimensionStyle style{.height = kLetters,
                             .first = 8.0,
                             .pitch = 6.5,
                             .pen = kGroup35.thin(),
                             .show = layout.project.show};
  const auto most = [&](double size) {
    return std::min(kMostStations, static_cast<std::size_t>(size * scale / (kLetters + 1.6)));
  };
  const AxisPlan across =
      axis_plan(ViewSide::bottom, front, true,
                stations(layout, contents, looks.front.right, false, most(front.width())));
  const AxisPlan up = axis_plan(ViewSide::left, front, false,
                                stations(layout, contents, {0, 0, 1}, true, most(front.height())));
  const AxisPlan deep =
      axis_plan(ViewSide::bottom, side, true,
                stations(layout, contents, looks.side.right, false, most(side.width())));

  Views v;
  const double gap = 20.0;
  const double left = area.lo.x + depth_of(up, style) + 8.0;
  const double below_front = depth_of(across, style) + 8.0;
  const double head = area.hi.y - 12.0;
  const double front_top = first_angle ? head : head - top.height() * scale - gap;
  const Vec2 front_corner{left, front_top - front.height() * scale};
  v.front = place_view(front, scale, front_corner);
  v.side = place_view(side, scale, {v.front.outline.hi.x + gap + 4.0, front_corner.y});
  v.top = place_view(
      top, scale,
      {left, first_angle ? front_corner.y - below_front - top.height() * scale : front_top + gap});
  for (const ViewPlace* place : {&v.front, &v.side, &v.top}) {
    if (!is_free(d, place->outline, 4.0)) return std::nullopt;
  }

  const SceneBodies scene = scene_of(layout, contents.made, scale);
  const SceneBodies equipment = scene_of(layout, contents.equipment, scale);
  const std::vector<int> owners = owners_of(d, layout, scene);
  const std::vector<int> equipment_owners = owners_of(d, layout, equipment);
  for (const auto& [frame, place] :
       {std::pair{looks.front, v.front}, {looks.top, v.top}, {looks.side, v.side}}) {
    const DrawnOptions options{.shortest = 0.3 / scale};
    add_view(d, visible_lines(scene.bodies, frame, options), place, kGroup35.visible(),
             kGroup35.hidden(), owners);
    add_view(d, visible_lines(equipment.bodies, frame, options), place, kGroup35.context(),
             kGroup35.context(), equipment_owners);
  }
  if (!add_axis_dimensions(d, v.front, {across, up}, style)) return std::nullopt;
  if (!add_axis_dimensions(d, v.side, {deep}, style)) return std::nullopt;

  const auto missing = add_isometric(d, set, contents, looks.isometric, scale, area);
  if (!missing) return std::nullopt;
  if (!add_hidden_parts(d, set, contents, *missing, looks.front, v.front, scale))
    return std::nullopt;
  return d;
}

std::vector<Drawing> list_pages(const PageSet& set, const Module& module) {
  TitleBlock block = title_block(set);
  block.title = module.title.empty() ? module.name : module.title;
  block.subtitle = set.layout.project.title;
  block.number = document_number(set, module.name);
  block.type = "Parts list";
  const std::vector<Table> tables{parts_list(set, module), bought_list(set, module)};
  const auto room = [&](const Drawing& d) {
    return usable_area(d, set.not_for_cutting).hi.y - 8.0 - title_area(d).hi.y - 4.0;
  };
  // Rows per page are known from an empty page.
  const auto per_page =
      static_cast<std::size_t>(room(open_page(set, PageSize::a4, block)) / Table{}.row);
  struct Piece {
    Table table;
    std::size_t page;
  };
  std::vector<Piece> pieces;
  std::size_t page = 0;
  std::size_t used = 0;
  for (const Table& table : tables) {
    for (std::size_t row = 0; row < table.rows.size();) {
      if (used + 3 > per_page) {
        ++page;
        used = 0;
      }
      const std::size_t take = std::min(table.rows.size() - row, per_page - used - 2);
      Piece piece{table, page};
      piece.table.rows.assign(table.rows.begin() + static_cast<std::ptrdiff_t>(row),
                              table.rows.begin() + static_cast<std::ptrdiff_t>(row + take));
      pieces.push_back(std::move(piece));
      used += take + 2;
      row += take;
    }
  }
  std::vector<Drawing> pages;
  for (std::size_t p = 0; p <= page; ++p) {
    block.sheet = std::to_string(p + 2) + "/" + std::to_string(page + 2);
    Drawing d = open_page(set, PageSize::a4, block);
    double top = usable_area(d, set.not_for_cutting).hi.y - 8.0;
    for (const Piece& piece : pieces) {
      if (piece.page != p) continue;
      add_table(d, piece.table, {d.frame.lo.x, top});
      top -= piece.table.total_height() + Table{}.row;
    }
    pages.push_back(std::move(d));
  }
  return pages;
}

}  // namespace ribbay::detail
