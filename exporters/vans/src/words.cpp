#include "words.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

std::string counted(std::size_t count, const std::string& what) {
  return std::to_string(count) + " " + what + (count == 1 ? "" : "s");
}

std::size_t count(const VanRun& van, Severity severity) {
  return static_cast<std::size_t>(std::ranges::count(van.findings, severity, &Finding::severity));
}

}  // namespace

std::string trouble_words(std::size_t errors, std::size_t warnings) {
  std::string text = errors > 0 ? counted(errors, "error") : "";
  if (warnings > 0) text += (text.empty() ? "" : ", ") + counted(warnings, "warning");
  return text;
}

bool passes(const VanRun& van) { return van.layout && !has_errors(van.findings); }

std::string result_words(const VanRun& van) {
  const std::string trouble =
      trouble_words(count(van, Severity::error), count(van, Severity::warning));
  if (!van.layout) return "not laid out: " + trouble;
  if (passes(van)) return trouble.empty() ? "passes" : "passes, " + trouble;
  return trouble;
}

std::string size_words(const ModuleInVan& cell, LengthStyle show) {
  if (!cell.size) return "-";
  return length_text(cell.size->x, show) + " x " + length_text(cell.size->y, show) + " x " +
         length_text(cell.size->z, show);
}

std::string change_words(const ModuleInVan& cell, const std::string& first) {
  switch (cell.change) {
    case Change::unknown:
      return cell.size ? "not compared" : "";
    case Change::same:
      return cell.size ? "as in " + first : "";
    case Change::added:
      return "not in " + first;
    case Change::gone:
      return "left out";
    case Change::size:
      break;
  }
  std::string text = std::to_string(cell.cut_anew) + " cut anew";
  if (cell.left_over > 0) text += ", " + std::to_string(cell.left_over) + " left over";
  return text;
}

std::string unit_words(LengthStyle show) { return show == LengthStyle::inches ? "in" : "mm"; }

}  // namespace ribbay::detail
