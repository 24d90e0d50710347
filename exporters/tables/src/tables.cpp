#include "tables/tables.hpp"

#include "catalogue/titles.hpp"
#include "drawings/finish_notes.hpp"
#include "drawings/member_study.hpp"
#include "layout/removals.hpp"
#include "structure/turned_on.hpp"
#include "table_text.hpp"
#include "tables/csv.hpp"

#include <algorithm>
#include <map>
#include <set>

namespace ribbay {

namespace {

using namespace detail;

std::string size_or_empty(double mm, LengthStyle show) {
  return mm > 0.0 ? size_text(mm, show) : std::string();
}

std::string ids_text(const Layout& layout, const PartType& type) {
  std::vector<std::string> ids;
  for (const std::size_t part : type.parts) ids.push_back(layout.parts[part].id);
  return join(ids, "; ");
}

/// "end 1: M8, 25 deep; end 2: M8, 25 deep"; empty for what is only sawn to length.
std::string ends_text(const Part& part, LengthStyle show) {
  if (part.kind != PartKind::member) return {};
  std::vector<std::string> words;
  for (const auto& [bore, sunk] : study_member(part).end_holes) {
    const std::string drill =
        bore.thread.empty() ? size_text(bore.diameter, show) + " drill" : bore.thread;
    words.push_back((bore.direction.z > 0.0 ? "end 1: " : "end 2: ") + drill +
                    (bore.through ? ", through" : ", " + size_text(bore.depth, show) + " deep"));
  }
  std::ranges::sort(words);
  return join(words, "; ");
}

/// "left, right: Edge band birch", by the sides of face A with the part's length lying.
std::string bands_text(const Layout& layout, const Part& part) {
  if (part.kind != PartKind::panel || !layout.catalogue) return {};
  std::vector<std::string> words;
  for (const Covering& covering : part.coverings) {
    const auto finish = layout.catalogue->finishes.find(covering.finish);
    if (finish == layout.catalogue->finishes.end() || covering.edges.empty() ||
        finish->second.kind != FinishKind::edge_band)
      continue;
    const auto edges = edge_names(part, study_panel(layout, part), covering, layout.project.show);
    words.push_back((edges.empty() ? "all" : join(edges, ", ")) + ": " + finish->second.title);
  }
  return join(words, "; ");
}

}  // namespace

OutputFile cut_list(const Layout& layout) {
  const LengthStyle show = layout.project.show;
  const std::string unit = size_unit(show);
  Rows rows = {{"mark", "title", "stock", "count", "length" + unit, "width" + unit,
                "thickness" + unit, "grain", "ends", "edge_bands", "material", "mass_kg", "ids"}};
  for (const PartType& type : part_types(layout)) {
    const Part& part = layout.parts[type.parts.front()];
    rows.push_back({type.mark, part.title, part.stock.key, std::to_string(type.parts.size()),
                    size_text(part.stock.length, show), size_or_empty(part.stock.width, show),
                    size_or_empty(part.stock.thickness, show),
                    part.stock.grain ? "along length" : "", ends_text(part, show),
                    bands_text(layout, part), part.material, rounded_text(part.mass_kg, 3),
                    ids_text(layout, type)});
  }
  return {"shop/cutlist.csv", csv_text(rows),
          "cut list: every piece to saw, like pieces in one row"};
}

OutputFile hardware_list(const Layout& layout) {
  struct Bought {
    const Part* first = nullptr;
    std::size_t count = 0;
    std::set<std::string> modules;
  };
  std::map<std::string, Bought> by_key;
  for (const Part& part : layout.parts) {
    if (!is_bought(part)) continue;
    Bought& bought = by_key[part.stock.key];
    if (bought.first == nullptr) bought.first = &part;
    ++bought.count;
    bought.modules.insert(part.module);
  }

  Rows rows = {{"stock", "title", "kind", "count", "modules"}};
  for (const auto& [key, bought] : by_key) {
    const std::string title = layout.catalogue ? stock_title(*layout.catalogue, key) : key;
    const std::vector<std::string> modules(bought.modules.begin(), bought.modules.end());
    rows.push_back({key, title == key ? bought.first->title : title,
                    std::string(name(bought.first->kind)), std::to_string(bought.count),
                    join(modules, "; ")});
  }
  std::map<std::string, std::pair<int, std::vector<std::string>>> on_bolts;  // by title
  for (const TurnedOn& on : turned_on(layout)) {
    auto& [count, modules] = on_bolts[on.title];
    count += on.count;
    modules.push_back(on.module);
  }
  for (const auto& [title, bought] : on_bolts) {
    rows.push_back({"", title, std::string(name(PartKind::hardware)), std::to_string(bought.first),
                    join(bought.second, "; ")});
  }
  return {"shop/hardware.csv", csv_text(rows), "hardware and equipment to buy, counted"};
}

OutputFiles shop_tables(const Layout& layout) {
  OutputFiles files = {cut_list(layout), hardware_list(layout)};
  const auto any = [&](auto has) { return std::ranges::any_of(layout.parts, has); };
  const auto drilled = [](const PlacedPrism& placed) { return !placed.prism.bores.empty(); };
  if (any([&](const Part& part) {
        return part.kind == PartKind::hardware && layout.catalogue &&
               layout.catalogue->bolts.contains(part.stock.key);
      }))
    files.push_back(fastener_list(layout));
  if (any([&](const Part& part) {
        return is_made(part.kind) && std::ranges::any_of(part.shape->prisms, drilled);
      }))
    files.push_back(drilling_list(layout));
  if (any([](const Part& part) { return part.order > 0; })) files.push_back(board_map(layout));
  if (any([](const Part& part) { return !part.coverings.empty(); }))
    files.push_back(finish_list(layout));
  if (!equipment_removals(layout).empty()) files.push_back(removal_list(layout));
  return files;
}

}  // namespace ribbay
