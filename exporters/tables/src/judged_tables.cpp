#include "tables/judged_tables.hpp"

#include "base/text.hpp"
#include "table_text.hpp"
#include "tables/csv.hpp"

namespace ribbay {

using namespace detail;

namespace {

constexpr const char* kAxes[] = {"along the van", "across the van", "up"};

std::string verdict(const JudgedGap& gap) {
  if (gap.nominal < gap.required) return "too narrow";
  if (gap.fits()) return "fits";
  if (gap.left_to_van) return "see van_fit.csv";
  return gap.likely_fits() ? "may not fit" : "unlikely to fit";
}

std::string contributors_text(const Stack& stack, LengthStyle show) {
  std::vector<std::string> words;
  for (const Contributor& c : stack.contributors)
    words.push_back(c.what + " of " + c.of + " " + size_text(c.tolerance, show));
  return join(words, "; ");
}

void add_place(std::vector<std::string>& row, Vec3 at, LengthStyle show) {
  for (const double value : {at.x, at.y, at.z}) row.push_back(size_text(value, show));
}

}  // namespace

OutputFile gap_list(const Layout& layout, const Judgement& judgement) {
  const LengthStyle show = layout.project.show;
  const std::string unit = size_unit(show);
  Rows rows = {{"kind", "named", "a", "b", "axis", "drawn" + unit, "required" + unit,
                "worst_case" + unit, "least_in_worst_case" + unit, "rss" + unit,
                "least_by_rss" + unit, "verdict", "largest", "share_percent", "contributors",
                "x" + unit, "y" + unit, "z" + unit}};
  for (const JudgedGap& gap : judgement.gaps) {
    const Stack& stack = gap.stack;
    const bool any = !stack.contributors.empty();
    const Contributor largest = any ? stack.contributors.front() : Contributor{};
    std::vector<std::string> row = {
        std::string(name(gap.kind)), gap.named, gap.a, gap.b, kAxes[gap.axis],
        size_text(gap.nominal, show), size_text(gap.required, show), size_text(stack.worst, show),
        size_text(gap.least(), show), size_text(stack.rss, show),
        size_text(gap.nominal - stack.rss, show), verdict(gap),
        any ? largest.what + " of " + largest.of : "",
        any ? rounded_text(100.0 * stack.share(largest), 0) : "", contributors_text(stack, show)};
    add_place(row, gap.at, show);
    rows.push_back(std::move(row));
  }
  return {"shop/gaps.csv", csv_text(rows), "how far the gaps may be off, and what by"};
}

OutputFile van_fit_list(const Layout& layout, const Judgement& judgement) {
  const LengthStyle show = layout.project.show;
  const std::string unit = size_unit(show);
  Rows rows = {{"module", "at", "part", "van", "verdict", "drawn" + unit, "survey_off_by" + unit,
                "bow" + unit, "allowance" + unit, "measure", "x" + unit, "y" + unit, "z" + unit}};
  for (const VanFit& fit : judgement.van) {
    std::vector<std::string> row = {
        fit.module, fit.place, fit.part, fit.body, std::string(name(fit.verdict)), size_text(fit.gap, show),
        size_text(fit.uncertainty, show), fit.bow > 0.0 ? size_text(fit.bow, show) : "",
        fit.allowance > 0.0 ? size_text(fit.allowance, show) : "", fit.measure};
    add_place(row, fit.at, show);
    rows.push_back(std::move(row));
  }
  return {"shop/van_fit.csv", csv_text(rows),
          "where modules meet the van: what fits, is packed, scribed or measured again"};
}

OutputFile rattle_list(const Layout& layout, const Judgement& judgement) {
  constexpr double kMm2PerCm2 = 100.0;
  const LengthStyle show = layout.project.show;
  const std::string unit = size_unit(show);
  Rows rows = {{"a", "b", "places", "least_gap" + unit, "length" + unit, "width" + unit,
                "area_cm2", "ids"}};
  for (const Rattle& rattle : judgement.rattles) {
    rows.push_back({rattle.a, rattle.b, std::to_string(rattle.places), size_text(rattle.gap, show),
                    size_text(rattle.length, show), size_text(rattle.width, show),
                    rounded_text(rattle.area / kMm2PerCm2, 1), join(rattle.ids, "; ")});
  }
  return {"shop/rattle.csv", csv_text(rows), "felt list: hard parts that are near and not held"};
}

OutputFiles judged_tables(const Layout& layout, const Judgement& judgement) {
  OutputFiles files;
  if (!judgement.gaps.empty()) files.push_back(gap_list(layout, judgement));
  if (!judgement.van.empty()) files.push_back(van_fit_list(layout, judgement));
  if (!judgement.rattles.empty()) files.push_back(rattle_list(layout, judgement));
  return files;
}

}  // namespace ribbay
