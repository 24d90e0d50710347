#include "assembly_drawing.hpp"

#include "assembly_views.hpp"
#include "balloons.hpp"
#include "base/tolerance.hpp"
#include "base/ways.hpp"
#include "base/wording.hpp"
#include "drawings/lettering.hpp"
#include "isometric_views.hpp"
#include "layout/front.hpp"
#include "lists.hpp"

#include <algorithm>
#include <set>

namespace ribbay::detail {

namespace {

/// What no isometric shows: its outline in the front view, dashed, with its balloon.
bool add_hidden_parts(Drawing& d, const PageSet& set, const Module& module,
                      const std::set<std::string>& missing, const AssemblyView& front,
                      double scale) {
  const auto references = references_of(set, module);
  for (const std::string& reference : missing) {
    const auto entry =
        std::ranges::find_if(references, [&](const auto& r) { return r.second == reference; });
    const SceneBodies scene = scene_of(set.layout, std::vector<std::size_t>{entry->first}, scale);
    const Drawn drawn = visible_lines(scene.bodies, front.frame, {.shortest = 0.3 / scale});
    add_view(d, drawn, front.place, kGroup35.hidden(), kGroup35.hidden(),
             owners_of(d, set.layout, scene));
    // On its outline: inside it, the dot would seem to point at what lies in front.
    const DrawnLine* longest = nullptr;
    for (const DrawnLine& l : drawn.lines) {
      if (longest == nullptr || length(l.b - l.a) > length(longest->b - longest->a) + kSame)
        longest = &l;
    }
    if (longest == nullptr) continue;
    const Vec2 middle = longest->a + (longest->b - longest->a) * 0.37;
    if (!add_balloon(d, {reference, {front.place.x.paper(middle.x), front.place.y.paper(middle.y)}},
                     front.place.outline, kGroup35.thin()))
      return false;
  }
  return true;
}

/// A quick no to what is far too large: views are no smaller than the module in them, and stand
/// beside and over each other.
bool may_fit(const Box& box, const Looks& looks, double scale, const Rect& frame) {
  const Rect front = seen_box(box, looks.front);
  return (front.width() + seen_box(box, looks.side).width()) * scale <= frame.width() &&
         (front.height() + seen_box(box, looks.top).height()) * scale <= frame.height();
}

/// Which way its front looks, and how high it stands, from where its own heights are measured;
/// false when that finds no room.
bool add_stand(Drawing& d, const Layout& layout, const Module& module,
               const ModuleContents& contents, const Rect& area) {
  if (!layout.vehicle) return true;
  constexpr double letters = 2.5;
  constexpr double row = 4.0;
  std::vector<std::string> notes{
      say("note.front", {{"way", van_way_text(front_way(module.front))}})};
  if (const double height = contents.box.lo.z; height >= kSame)
    notes.push_back(
        say("note.above_floor", {{"height", length_text(height, layout.project.show)}}));
  double width = 0.0;
  for (const std::string& note : notes) width = std::max(width, text_width(note, letters));
  const double high = row * static_cast<double>(notes.size());
  const auto spot = free_spot(d, area, {width + 2.0, high + 1.5});
  if (!spot) return false;
  for (std::size_t i = 0; i < notes.size(); ++i)
    add_text(d, notes[i], *spot + Vec2{1.0, high - row * static_cast<double>(i + 1) + 1.5},
             letters);
  return true;
}

}  // namespace

std::optional<Drawing> assembly_drawing(const PageSet& set, const Module& module, PageSize page,
                                        double scale, bool lists) {
  const Layout& layout = set.layout;
  const ModuleContents contents = contents_of(layout, module);
  if (contents.box.empty()) return std::nullopt;
  TitleBlock block = title_block(set);
  block.title = module.title.empty() ? module.name : module.title;
  block.subtitle = layout.project.title;
  block.number = document_number(set, module.name);
  block.type = say("document.assembly");
  block.material = say("see_parts_list");
  block.stock = say("see_parts_list");
  block.finish = say("see_parts_list");
  double mass = 0.0;
  for (const std::size_t i : contents.made) mass += layout.parts[i].mass_kg;
  block.mass = mass_text(mass);
  block.quantity = "1";
  block.scale = scale_text(scale);
  block.sheet = lists ? "1/1" : "1/" + std::to_string(list_pages(set, module).size() + 1);
  Drawing d = open_page(set, page, block);
  const Rect area = usable_area(d, set.not_for_cutting);
  const Looks looks = looks_at(module.front, layout.project.first_angle);
  if (!may_fit(contents.box, looks, scale, d.frame)) return std::nullopt;

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

  AssemblyViews views = views_of(layout, module, contents, scale);
  if (!add_views(d, layout, contents, views, area, scale)) return std::nullopt;
  if (!add_stand(d, layout, module, contents, area)) return std::nullopt;
  const auto missing = add_isometrics(d, set, module, contents, looks.isometric, scale, area);
  if (!missing) return std::nullopt;
  if (!add_hidden_parts(d, set, module, *missing, views.front, scale)) return std::nullopt;
  return d;
}

}  // namespace ribbay::detail
