#include "lists.hpp"

#include "assembly_drawing.hpp"
#include "base/wording.hpp"
#include "module_contents.hpp"
#include "structure/turned_on.hpp"

#include <algorithm>
#include <map>

namespace ribbay::detail {

Table parts_list(const PageSet& set, const Module& module) {
  Table table;
  // Fields of ISO 7573 (from memory): item reference, quantity, description, material, technical
  // data.
  table.columns = {{say("column.ref"), 12},  {say("column.qty"), 10, Align::right},
                   {say("column.name"), 44}, {say("column.stock"), 46},
                   {say("column.size"), 48}, {say("column.kg_each"), 20, Align::right}};
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

/// Bought things, counted by stock key, and what is turned onto their bolts.
Table bought_list(const PageSet& set, const Module& module) {
  Table table;
  table.columns = {{say("column.ref"), 12},
                   {say("column.qty"), 10, Align::right},
                   {say("column.bought"), 102},
                   {say("column.stock_key"), 56}};
  const auto references = bought_references(set.layout, module);
  std::map<std::string, std::pair<std::size_t, std::string>> counted;
  for (const Part& part : set.layout.parts) {
    if (part.module != module.name || !is_bought(part)) continue;
    auto& entry = counted[part.stock.key];
    ++entry.first;
    if (entry.second.empty()) entry.second = stock_title(set.layout, part);
  }
  for (const auto& [key, entry] : counted)
    table.rows.push_back({references.at(key), std::to_string(entry.first), entry.second, key});
  std::size_t number = references.size();
  for (const TurnedOn& on : turned_on(set.layout)) {
    if (on.module == module.name)
      table.rows.push_back({std::to_string(++number), std::to_string(on.count), on.title, ""});
  }
  return table;
}

std::size_t list_rows(const PageSet& set, const Module& module) {
  const std::size_t parts = parts_list(set, module).rows.size();
  const std::size_t bought = bought_list(set, module).rows.size();
  return parts + 1 + (bought > 0 ? bought + 1 : 0);
}

std::vector<Drawing> list_pages(const PageSet& set, const Module& module) {
  TitleBlock block = title_block(set);
  block.title = module.title.empty() ? module.name : module.title;
  block.subtitle = set.layout.project.title;
  block.number = document_number(set, module.name);
  block.type = say("document.list");
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
      if (used + 2 > per_page) {
        ++page;
        used = 0;
      }
      const std::size_t take = std::min(table.rows.size() - row, per_page - used - 1);
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
