#include "base/messages.hpp"
#include "tables/csv.hpp"
#include "base/markup.hpp"
#include "tables/html.hpp"
#include "words.hpp"

namespace ribbay {

namespace {

using namespace detail;
using Rows = std::vector<std::vector<std::string>>;

// CSV -------------------------------------------------------------------------------------------

std::string change_key(Change change) {
  switch (change) {
    case Change::unknown:
      return "";
    case Change::size:
      return "size";
    case Change::added:
      return "added";
    case Change::gone:
      return "gone";
    case Change::same:
      break;
  }
  return "same";
}

/// Nothing where nothing was compared.
std::string change_count(const ModuleInVan& cell, std::size_t parts) {
  return cell.change == Change::unknown ? "" : std::to_string(parts);
}

std::string modules_csv(const VanComparison& comparison, const std::vector<ModuleRow>& modules) {
  const std::string unit = " " + unit_words(comparison.show);
  Rows rows{{"van", "result", "module", "width" + unit, "depth" + unit, "height" + unit, "change",
             "cut anew", "left over", "errors", "warnings"}};
  for (std::size_t v = 0; v < comparison.vans.size(); ++v) {
    const VanRun& van = comparison.vans[v];
    rows.push_back({van.name, result_words(van)});
    rows.back().resize(rows.front().size());
    for (const ModuleRow& module : modules) {
      const ModuleInVan& cell = module.vans[v];
      const auto length = [&](double mm) {
        return cell.size ? length_text(mm, comparison.show) : std::string();
      };
      const Vec3 size = cell.size.value_or(Vec3{});
      rows.push_back({van.name, "", module.name, length(size.x), length(size.y), length(size.z),
                      change_key(cell.change), change_count(cell, cell.cut_anew),
                      change_count(cell, cell.left_over), std::to_string(cell.errors),
                      std::to_string(cell.warnings)});
    }
  }
  return csv_text(rows);
}

std::string parts_csv(const VanComparison& comparison, const std::vector<PartRow>& parts) {
  Rows rows{{"part", "title"}};
  for (const VanRun& van : comparison.vans)
    rows.front().push_back(van.name + " " + unit_words(comparison.show));
  for (const PartRow& part : parts) {
    rows.push_back({part.id, part.title});
    rows.back().insert(rows.back().end(), part.sizes.begin(), part.sizes.end());
  }
  return csv_text(rows);
}

// HTML ------------------------------------------------------------------------------------------

constexpr const char* kStyle = R"(
body { max-width: 72rem; }
table { width: auto; } th, td { border: 1px solid #b8bec4; padding: .3rem .6rem; vertical-align: top; }
thead th { background: #eef0f2; } .pass { background: #e3f1e5; } .fail { background: #f8dfdc; }
td.size { white-space: nowrap; }
li { margin: .5rem 0; } .mend { margin-left: 1rem; }
@media print { body { max-width: none; } table { break-inside: auto; } h2 { break-after: avoid; } tr, li { break-inside: avoid; } }
)";

std::string heading_row(const VanComparison& comparison, const std::vector<std::string>& first) {
  std::string cells;
  for (const std::string& word : first) cells += html_tag("th", markup_escaped(word));
  for (const VanRun& van : comparison.vans) {
    const std::string title =
        van.layout && van.layout->vehicle && !van.layout->vehicle->title.empty()
            ? "<br>" + html_tag("span", markup_escaped(van.layout->vehicle->title), "note")
            : "";
    cells += html_tag("th", markup_escaped(van.name) + title);
  }
  return "<thead>" + html_tag("tr", cells) + "</thead>\n";
}

std::string css_of(const VanRun& van) {
  return passes(van) ? "pass" : "fail";
}

std::string css_of(const ModuleInVan& cell) {
  if (cell.errors > 0) return "size fail";
  if (cell.warnings > 0) return "size warn";
  return cell.size ? "size pass" : "size";
}

std::string module_cell(const ModuleInVan& cell, bool first, const VanComparison& comparison) {
  std::string text = markup_escaped(size_words(cell, comparison.show));
  const auto add = [&text](const std::string& words) {
    if (!words.empty()) text += "<br>" + html_tag("span", markup_escaped(words), "note");
  };
  if (!first) add(change_words(cell, comparison.vans.front().name));
  add(trouble_words(cell.errors, cell.warnings));
  return html_tag("td", text, css_of(cell));
}

std::string overview(const VanComparison& comparison, const std::vector<ModuleRow>& modules) {
  std::string body;
  std::string cells = html_tag("th", "result");
  for (const VanRun& van : comparison.vans)
    cells += html_tag("td", markup_escaped(result_words(van)), css_of(van));
  body += html_tag("tr", cells) + "\n";
  for (const ModuleRow& module : modules) {
    cells = html_tag("th", markup_escaped(module.title) + "<br>" +
                               html_tag("span", markup_escaped(module.name), "note"));
    for (std::size_t v = 0; v < module.vans.size(); ++v)
      cells += module_cell(module.vans[v], v == 0, comparison);
    body += html_tag("tr", cells) + "\n";
  }
  return html_tag("table", "\n" + heading_row(comparison, {"module"}) + html_tag("tbody", body)) +
         "\n";
}

std::string finding_item(const Finding& finding, LengthStyle show) {
  const bool error = finding.severity == Severity::error;
  const bool warning = finding.severity == Severity::warning;
  std::string text = html_tag("span",
                              error     ? "error"
                              : warning ? "warning"
                                        : "note",
                              error     ? "fail"
                              : warning ? "warn"
                                        : "note");
  text += " " + markup_escaped(message_text(finding, show));
  if (finding.place) {
    const int line = finding.place->line;
    const std::string where = finding.place->file + (line > 0 ? ":" + std::to_string(line) : "");
    text += " " + html_tag("span", markup_escaped(where), "note");
  }
  const std::string advice = advice_text(finding, show);
  if (!advice.empty()) text += "<br>" + html_tag("span", "mend: " + markup_escaped(advice), "mend");
  return html_tag("li", text) + "\n";
}

std::string findings_of(const VanComparison& comparison) {
  std::string page;
  for (const VanRun& van : comparison.vans) {
    if (van.findings.empty()) continue;
    std::string items;
    for (const Finding& finding : van.findings) items += finding_item(finding, comparison.show);
    page += html_tag("h2", "What is found in " + markup_escaped(van.name)) + "\n" +
            html_tag("ul", "\n" + items) + "\n";
  }
  return page;
}

std::string differing_parts(const VanComparison& comparison, const std::vector<PartRow>& parts) {
  const VanRun& first = comparison.vans.front();
  if (!first.layout)
    return html_tag("h2", "Parts") + "\n" +
           html_tag("p", markup_escaped(first.name) +
                             " was not laid out, so no parts were compared with it.") +
           "\n";
  const std::string head =
      html_tag("h2", "Parts that are not the same in all vans: " + std::to_string(parts.size())) +
      "\n";
  if (parts.empty()) return head;
  std::string body;
  for (const PartRow& part : parts) {
    std::string cells =
        html_tag("th", markup_escaped(part.id)) + html_tag("td", markup_escaped(part.title));
    for (const std::string& size : part.sizes)
      cells += html_tag("td", markup_escaped(size),
                        "size" + std::string(size == part.sizes.front() ? "" : " warn"));
    body += html_tag("tr", cells) + "\n";
  }
  return head +
         html_tag("table", "\n" + heading_row(comparison, {"part", ""}) + html_tag("tbody", body)) +
         "\n";
}

std::string page(const VanComparison& comparison, const std::vector<ModuleRow>& modules,
                 const std::vector<PartRow>& parts) {
  const std::string title =
      comparison.title + " in " + std::to_string(comparison.vans.size()) + " vans";
  return html_page(
      title, kStyle,
      html_tag("h1", markup_escaped(title)) + "\n" +
          html_tag("p", "Sizes are width x depth x height of each module, seen from its front, in " +
                            unit_words(comparison.show) + ". Parts are compared with those for " +
                            markup_escaped(comparison.vans.front().name) + ".") +
          "\n" + overview(comparison, modules) + findings_of(comparison) +
          differing_parts(comparison, parts));
}

}  // namespace

OutputFiles vans_files(const VanComparison& comparison) {
  const std::vector<ModuleRow> modules = module_rows(comparison);
  const std::vector<PartRow> parts = part_rows(comparison);
  return {
      {"vans.csv", modules_csv(comparison, modules), "modules in several vans, a row each"},
      {"van_parts.csv", parts_csv(comparison, parts), "parts that are not the same in all vans"},
      {"vans.html", page(comparison, modules, parts), "the project in several vans, compared"}};
}

}  // namespace ribbay
