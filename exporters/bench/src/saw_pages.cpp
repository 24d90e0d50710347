#include "base/wording.hpp"
#include "drawings/lettering.hpp"
#include "drawings/part_words.hpp"
#include "drawings/views.hpp"
#include "print_page.hpp"
#include "sections.hpp"

#include <algorithm>
#include <map>

namespace ribbay::detail {

namespace {

constexpr double kMark = 22.0;   // column of marks
constexpr double kSize = 66.0;   // of sizes
constexpr double kTicks = 46.0;  // of boxes

/// What is sawn from one stock.
struct Lot {
  std::string title;
  std::vector<const PartType*> types;
};

std::vector<Lot> lots_of(const Layout& layout, const std::vector<PartType>& types) {
  std::vector<Lot> lots;
  std::map<std::string, std::size_t> known;
  for (const PartType& type : types) {
    const Part& part = layout.parts[type.parts.front()];
    const auto [place, fresh] = known.try_emplace(part.stock.key, lots.size());
    if (fresh) lots.push_back({stock_title(layout, part), {}});
    lots[place->second].types.push_back(&type);
  }
  for (Lot& lot : lots) {
    std::ranges::stable_sort(lot.types, std::greater<>(), [&](const PartType* type) {
      const Stock& stock = layout.parts[type->parts.front()].stock;
      return std::pair(stock.length, stock.width);
    });
  }
  return lots;
}

/// "600 × 400".
std::string sawn_size(const Layout& layout, const Part& part) {
  const LengthStyle show = layout.project.show;
  std::string text = length_text(part.stock.length, show);
  if (part.kind == PartKind::member) return text;
  return text + " × " + length_text(part.stock.width, show);
}

void add_row(Pager& pages, const Layout& layout, const PartType& type, const std::string& lot) {
  const Part& part = layout.parts[type.parts.front()];
  const double ticks = ticks_height(type.parts.size(), kTicks);
  const double words = pages.width() - kMark - kSize - kTicks - 4.0;
  const double ids = pages.width() - kMark - kTicks - 4.0;
  std::vector<std::string> title{titles_of(layout, type)};
  if (has_edge_band(layout, part)) title.push_back(say("sawn.bare"));
  const double top = std::max(11.0, notes_height(title, words, kWord) + 3.5);
  const double row =
      std::max(top + notes_height({ids_text(layout, type, 1)}, ids, kWord) + 1.5, ticks + 2.0);
  pages.need(row + 1.0, lot);
  Drawing& d = pages.page();
  const double x = pages.left();
  const double foot = pages.y() - 8.5;
  add_sized(d, type.mark, {x, foot}, kBig, kMark - 2.0);
  add_sized(d, sawn_size(layout, part), {x + kMark, foot}, kBig, kSize - 4.0);
  add_notes(d, title, {x + kMark + kSize, pages.y() - 3.0}, words, kWord);
  add_notes(d, {ids_text(layout, type, 1)}, {x + kMark, pages.y() - top}, ids, kWord);
  add_ticks(d, type.parts.size(), {d.frame.hi.x - kTicks, pages.y() - 2.0}, kTicks);
  pages.down(row);
  add_line(d, {x, pages.y()}, {d.frame.hi.x, pages.y()}, {LineType::continuous, 0.18});
}

}  // namespace

std::vector<SetPage> saw_pages(const Layout& layout, const BenchOptions& options) {
  const std::vector<PartType> types = part_types(layout);
  Pager pages(layout, options, say("bench.saw"), "saw", say("file.saw"));
  for (const Lot& lot : lots_of(layout, types)) {
    const Part& first = layout.parts[lot.types.front()->parts.front()];
    pages.need(36.0);
    pages.down(2.0);
    std::string title = lot.title;
    if (first.kind != PartKind::member) {
      title = say("bench.thick",
                  {{"stock", title},
                   {"thickness", length_text(first.stock.thickness, layout.project.show)}});
    }
    add_sized(pages.page(), title, {pages.left(), pages.y() - 6.0}, kFigure, pages.width());
    const std::string material = material_title(layout, first.material);
    add_sized(pages.page(),
              first.stock.grain ? say("bench.along_grain", {{"material", material}}) : material,
              {pages.left(), pages.y() - 12.0}, kWord, pages.width());
    pages.down(14.0);
    add_line(pages.page(), {pages.left(), pages.y()}, {pages.page().frame.hi.x, pages.y()},
             kBenchPens.visible());
    for (const PartType* type : lot.types) add_row(pages, layout, *type, lot.title);
    pages.down(5.0);
  }
  return pages.take();
}

}  // namespace ribbay::detail
