#include "page_set.hpp"

#include "base/wording.hpp"
#include "drawings/document.hpp"

#include <algorithm>
#include <string_view>

namespace ribbay::detail {

TitleBlock title_block(const PageSet& set) {
  return title_block(set.layout, set.not_for_cutting);
}

std::string document_number(const PageSet& set, const std::string& suffix) {
  return document_number(set.layout, suffix);
}

std::string said_of(const PageSet& set, const std::string& id) {
  const Part* part = set.layout.find(id);
  constexpr std::string_view van = "vehicle/";
  if (part == nullptr) return id.starts_with(van) ? id.substr(van.size()) : id;
  if (!is_made(part->kind)) return part->title;
  const std::string of = module_title(set.layout, part->module);
  const auto index = static_cast<std::size_t>(part - set.layout.parts.data());
  const auto type = std::ranges::find_if(set.types, [&](const PartType& t) {
    return std::ranges::find(t.parts, index) != t.parts.end();
  });
  return say("title.of_module",
             {{"title", type != set.types.end() ? type->mark : part->title}, {"module", of}});
}

Drawing open_page(const PageSet& set, PageSize size, const TitleBlock& block) {
  Drawing d = new_page(size, block);
  if (set.not_for_cutting) add_stamp(d);
  return d;
}

Rect usable_area(const Drawing& drawing, bool stamped) {
  Rect area = drawing.frame;
  if (stamped) area.hi.y = drawing.reserved.back().lo.y;
  return area;
}

SetPage page_of(int number, const std::string& name, const std::string& what, Drawing drawing) {
  std::string digits = std::to_string(number);
  if (digits.size() < 3) digits.insert(0, 3 - digits.size(), '0');
  return {"drawings/" + digits + "-" + file_name(name) + ".svg", what, std::move(drawing)};
}

Drawing undrawn_page(const PageSet& set, const TitleBlock& block) {
  Drawing d = open_page(set, PageSize::a4, block);
  const Rect title = title_area(d);
  add_fitted(d, say("note.undrawn"), {title.lo.x + 4.0, title.hi.y + 12.0}, 2.5,
             title.width() - 8.0);
  return d;
}

double smaller_scale(double scale, int steps) {
  for (; steps > 0; --steps) scale = scale_below(scale * 0.99);
  return scale;
}

}  // namespace ribbay::detail
