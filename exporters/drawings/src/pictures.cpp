#include "base/wording.hpp"
#include "drawings/drawings.hpp"
#include "drawings/views.hpp"
#include "module_contents.hpp"
#include "scene.hpp"

#include <algorithm>

namespace ribbay {

namespace {

constexpr Vec2 kLargest{160.0, 110.0};
constexpr double kMargin = 4.0;

/// Everything of one module as it stands in the van.
std::vector<std::size_t> parts_of(const Layout& layout, const Module& module) {
  std::vector<std::size_t> parts;
  for (std::size_t i = 0; i < layout.parts.size(); ++i) {
    if (layout.parts[i].module == module.name) parts.push_back(i);
  }
  return parts;
}

Drawing picture(const Layout& layout, const Module& module) {
  const std::vector<std::size_t> parts = parts_of(layout, module);
  const ViewFrame view = detail::looks_at(module.front, layout.project.first_angle).isometric;
  Box box;
  for (const std::size_t i : parts) {
    const Box part = bounds(layout.parts[i]);
    box.add(part.lo);
    box.add(part.hi);
  }
  const Rect seen = detail::seen_box(box, view);
  const double scale = std::min(kLargest.x / seen.width(), kLargest.y / seen.height());
  const detail::SceneBodies scene = detail::scene_of(layout, parts, scale);
  const Drawn drawn = visible_lines(scene.bodies, view, {.shortest = 0.3 / scale});

  Drawing d;
  d.format = "picture";
  d.title = module.title.empty() ? module.name : module.title;
  d.width = seen.width() * scale + 2 * kMargin;
  d.height = seen.height() * scale + 2 * kMargin;
  d.frame = {{0, 0}, {d.width, d.height}};
  add_view(d, drawn, place_view(seen, scale, {kMargin, kMargin}), kGroup35.visible(),
           kGroup35.hidden(), detail::owners_of(d, layout, scene));
  return d;
}

}  // namespace

OutputFiles pictures(const Layout& layout) {
  OutputFiles files;
  for (const Module& module : layout.modules) {
    if (parts_of(layout, module).empty()) continue;
    const Drawing drawing = picture(layout, module);
    files.push_back({"pictures/" + module.name + ".svg", svg(drawing),
                     say("file.picture", {{"title", drawing.title}})});
  }
  return files;
}

}  // namespace ribbay
