#include "table_text.hpp"
#include "tables/csv.hpp"
#include "tables/tables.hpp"

#include <algorithm>
#include <map>

namespace ribbay {

namespace {

using namespace detail;

bool has_cut(const Part& part, CutRole role) {
  const std::vector<Cut>& cuts = part.shape->prisms.front().prism.cuts;
  return std::ranges::find(cuts, role, &Cut::role) != cuts.end();
}

/// Planks of one module in the order they are laid.
std::map<std::string, std::vector<const Part*>> rows_of_planks(const Layout& layout) {
  std::map<std::string, std::vector<const Part*>> modules;
  for (const Part& part : layout.parts) {
    if (part.kind == PartKind::plank && part.order > 0) modules[part.module].push_back(&part);
  }
  for (auto& [module, boards] : modules) std::ranges::stable_sort(boards, {}, &Part::order);
  return modules;
}

/// Gap to the next board: both are placed by the edge with the groove, as if it were whole.
std::string gap_text(const Layout& layout, const Part& board, const std::vector<const Part*>& row,
                     LengthStyle show) {
  const auto next = std::ranges::find(row, board.order + 1, &Part::order);
  const auto plank = layout.catalogue->planks.find(board.stock.key);
  if (next == row.end() || plank == layout.catalogue->planks.end()) return {};
  const double apart = dot((*next)->frame.origin - board.frame.origin, board.frame.y);
  return size_text(apart - plank->second.cover, show);
}

}  // namespace

OutputFile board_map(const Layout& layout) {
  const LengthStyle show = layout.project.show;
  const std::string unit = size_unit(show);
  std::map<std::string, std::string> marks;
  for (const PartType& type : part_types(layout)) {
    for (const std::size_t part : type.parts) marks[layout.parts[part].id] = type.mark;
  }
  Rows rows = {{"module", "order", "mark", "stock", "length" + unit, "width" + unit, "groove",
                "tongue", "gap_to_next" + unit, "id"}};
  for (const auto& [module, boards] : rows_of_planks(layout)) {
    for (const Part* board : boards) {
      rows.push_back({module, std::to_string(board->order), marks[board->id], board->stock.key,
                      size_text(board->stock.length, show), size_text(board->stock.width, show),
                      has_cut(*board, CutRole::groove) ? "yes" : "sawn off",
                      has_cut(*board, CutRole::rebate) ? "yes" : "sawn off",
                      gap_text(layout, *board, boards, show), board->id});
    }
  }
  return {"shop/boards.csv", csv_text(rows),
          "board map: planks in the order they are laid, from the datum edge"};
}

}  // namespace ribbay
