#include "base/messages.hpp"
#include "base/text.hpp"
#include "base/text_table.hpp"
#include "words.hpp"

#include <algorithm>

namespace ribbay {

namespace {

using namespace detail;
using Row = std::vector<std::string>;

Row head_row(const VanComparison& comparison, const std::string& first) {
  Row row{first};
  for (const VanRun& van : comparison.vans) row.push_back(van.name);
  return row;
}

std::vector<Row> rows_of(const ModuleRow& module, const VanComparison& comparison) {
  Row sizes{module.name};
  Row changes{""};
  Row troubles{""};
  for (std::size_t v = 0; v < module.vans.size(); ++v) {
    const ModuleInVan& cell = module.vans[v];
    sizes.push_back(size_words(cell, comparison.show));
    changes.push_back(v == 0 ? "" : change_words(cell, comparison.vans.front().name));
    troubles.push_back(trouble_words(cell.errors, cell.warnings));
  }
  std::vector<Row> rows{std::move(sizes)};
  const auto empty = [](const Row& row) {
    return std::ranges::all_of(row, [](const std::string& text) { return text.empty(); });
  };
  if (!empty(changes)) rows.push_back(std::move(changes));
  if (!empty(troubles)) rows.push_back(std::move(troubles));
  return rows;
}

}  // namespace

std::string vans_text(const VanComparison& comparison) {
  std::vector<Row> rows{head_row(comparison, "")};
  Row results{"result"};
  for (const VanRun& van : comparison.vans) results.push_back(result_words(van));
  rows.push_back(std::move(results));
  rows.push_back({});
  rows.push_back({"sizes, " + unit_words(comparison.show)});
  for (const ModuleRow& module : module_rows(comparison)) {
    for (Row& row : rows_of(module, comparison)) rows.push_back(std::move(row));
  }
  std::string page = lined_up(rows);
  for (const VanRun& van : comparison.vans) {
    if (van.findings.empty()) continue;
    page += "\n" + van.name + "\n";
    for (const Finding& finding : van.findings)
      page += finding_text(finding, comparison.show) + "\n";
  }
  return page;
}

}  // namespace ribbay
