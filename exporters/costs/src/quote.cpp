#include "costs/quote.hpp"

#include "base/markup.hpp"
#include "base/text.hpp"
#include "drawings/drawings.hpp"
#include "money.hpp"
#include "tables/csv.hpp"
#include "tables/html.hpp"

#include <algorithm>
#include <map>

namespace ribbay {

namespace {

using detail::in_hundredths;

std::size_t saw_cuts(const std::vector<StockPlan>& plans) {
  std::size_t cuts = 0;
  for (const StockPlan& plan : plans) {
    for (const BarsPlan& bars : plan.plans.bars) {
      const std::size_t trims = plan.orders.bars.front().saw.trim > 0.0 ? 1 : 0;
      for (const BarLayout& bar : bars.layouts)
        cuts += static_cast<std::size_t>(bar.count) * (bar.pieces.size() + trims);
    }
    for (const SheetsPlan& sheets : plan.plans.sheets) {
      for (const SheetLayout& sheet : sheets.layouts) cuts += sheet.cuts.size();
    }
  }
  return cuts;
}

/// What takes time, of one module.
struct Tally {
  std::size_t pieces = 0;
  std::size_t holes = 0;
  std::size_t joints = 0;
  std::size_t panels = 0;
};

std::map<std::string, Tally> tallies(const Layout& layout) {
  std::map<std::string, Tally> modules;
  for (const Part& part : layout.parts) {
    if (!is_made(part.kind)) continue;
    Tally& tally = modules[part.module];
    ++tally.pieces;
    if (part.kind != PartKind::member) ++tally.panels;
    for (const PlacedPrism& prism : part.shape->prisms) tally.holes += prism.prism.bores.size();
  }
  for (const Joint& joint : layout.joints) ++modules[joint.id.substr(0, joint.id.find('/'))].joints;
  return modules;
}

Tally sum_of(const std::map<std::string, Tally>& modules) {
  Tally sum;
  for (const auto& [name, tally] : modules) {
    sum.pieces += tally.pieces;
    sum.holes += tally.holes;
    sum.joints += tally.joints;
    sum.panels += tally.panels;
  }
  return sum;
}

std::string title_of(const Module& module) {
  return module.title.empty() ? module.name : module.title;
}

constexpr const char* kStyle = R"(
.pictures { display: flex; flex-wrap: wrap; gap: .5rem; }
figure { margin: 0; width: calc(25% - .5rem); } figure img { width: 100%; height: 6rem; object-fit: contain; }
figcaption { font-size: .87em; text-align: center; }
.sides { display: flex; gap: 2.5rem; } .sides > div { flex: 1; }
@media print { h2 { margin: .6rem 0 .3rem; } th, td { padding: .1rem .4rem; } .signed { margin-top: 2rem; } }
)";

std::string number_cell(const std::string& text) { return html_tag("td", text, "number"); }

/// A picture that is part of the page.
std::string embedded(const std::string& svg) {
  constexpr std::string_view hex = "0123456789ABCDEF";
  std::string url = "data:image/svg+xml,";
  for (const char c : svg) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte <= ' ' || byte >= 127 || std::string_view("%#\"<>&'").find(c) != std::string::npos) {
      url += '%';
      url += hex[byte >> 4U];
      url += hex[byte & 15U];
    } else {
      url += c;
    }
  }
  return url;
}

std::string picture_row(const Layout& layout) {
  std::string row;
  const OutputFiles files = pictures(layout);
  for (const Module& module : layout.modules) {
    const auto file =
        std::ranges::find(files, "pictures/" + module.name + ".svg", &OutputFile::path);
    if (file == files.end()) continue;
    const std::string title = markup_escaped(module.title.empty() ? module.name : module.title);
    row += "<figure><img alt=\"" + title + "\" src=\"" + embedded(file->bytes) + "\">" +
           html_tag("figcaption", title) + "</figure>\n";
  }
  return "<div class=\"pictures\">\n" + row + "</div>\n";
}

std::string hours_text(double hours) {
  return rounded_text(hours, 1);
}

std::string minutes_text(const Work& work) {
  return rounded_text(work.each / 60.0, 2);
}

std::string table_row(const std::vector<std::string>& cells, const std::string& css = {}) {
  std::string row;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const std::string text = markup_escaped(cells[i]);
    row += i == 0 ? html_tag("td", text) : number_cell(text);
  }
  return html_tag("tr", row, css) + "\n";
}

std::string heading_row(const std::vector<std::string>& titles) {
  std::string row;
  for (std::size_t i = 0; i < titles.size(); ++i)
    row += html_tag("th", titles[i], i == 0 ? "" : "number");
  return html_tag("tr", row) + "\n";
}

/// `hours`: of all, summed up once for all tables.
std::string work_table(const std::vector<Work>& done, double hours) {
  std::string rows = heading_row({"Work", "Number", "Minutes each", "Hours"});
  for (const Work& each : done) {
    rows += table_row({each.what, std::to_string(each.count), minutes_text(each),
                       hours_text(each.hours())});
  }
  rows += table_row({"All work", "", "", hours_text(hours)}, "sum");
  return html_tag("table", "\n" + rows) + "\n";
}

std::string module_table(const std::vector<ModuleWork>& modules, double hours) {
  std::string rows = heading_row({"Module", "Hours"});
  for (const ModuleWork& each : modules) rows += table_row({each.title, hours_text(each.hours)});
  rows += table_row({"All modules", hours_text(hours)}, "sum");
  return html_tag("table", "\n" + rows) + "\n";
}

OutputFile work_list(const std::vector<Work>& done, const std::vector<ModuleWork>& modules,
                     double hours) {
  std::vector<std::vector<std::string>> rows{{"by", "what", "number", "minutes_each", "hours"}};
  for (const Work& each : done) {
    rows.push_back({"work", each.what, std::to_string(each.count), minutes_text(each),
                    rounded_text(each.hours(), 2)});
  }
  rows.push_back({"work", "total", "", "", rounded_text(hours, 2)});
  for (const ModuleWork& each : modules)
    rows.push_back({"module", each.title, "", "", rounded_text(each.hours, 2)});
  rows.push_back({"module", "total", "", "", rounded_text(hours, 2)});
  return {"shop/work.csv", csv_text(rows), "how long the work takes, by the project's rates"};
}

std::string price_table(const Layout& layout, const Quote& sum) {
  const Rates& rates = *layout.rates;
  const std::string& currency = layout.project.currency;
  std::string rows;
  const auto add = [&](const std::string& what, double money, const std::string& css = {}) {
    rows += html_tag("tr", html_tag("td", markup_escaped(what)) +
                               number_cell(money_text(money, currency)), css) +
            "\n";
  };
  add("Work, " + rounded_text(sum.hours, 1) + " h at " + money_text(rates.hour, currency),
      sum.labour);
  add("Material", sum.material);
  if (rates.markup > 0.0)
    add("On the material, " + rounded_text(100 * rates.markup, 1) + " %", sum.markup);
  if (rates.contingency > 0.0)
    add("For what nobody foresees, " + rounded_text(100 * rates.contingency, 1) + " %",
        sum.contingency);
  add("Total", sum.total, "sum");
  return html_tag("table", "\n" + rows) + "\n";
}

std::string who_and_when(const Layout& layout) {
  std::string line;
  const auto add = [&](const std::string& what, const std::string& text) {
    if (!text.empty()) line += (line.empty() ? "" : " · ") + what + markup_escaped(text);
  };
  add("for ", layout.rates->customer);
  add("by ", layout.project.author);
  add("", layout.project.date);
  if (layout.vehicle) add("in ", layout.vehicle->title);
  return html_tag("p", line, "note") + "\n";
}

}  // namespace

std::vector<Work> work(const Layout& layout, const std::vector<StockPlan>& plans) {
  if (!layout.rates) return {};
  const Rates& rates = *layout.rates;
  const Tally sum = sum_of(tallies(layout));
  std::vector<Work> done{{"Saw cuts", saw_cuts(plans), rates.cut},
                         {"Holes", sum.holes, rates.hole},
                         {"Joints", sum.joints, rates.joint},
                         {"Panels, planks and folded parts, edges broken", sum.panels,
                          rates.panel}};
  for (const auto& [name, seconds] : rates.modules) {
    const Module* module = layout.module(name);
    if (module == nullptr) continue;  // left out of this van
    done.push_back({title_of(*module) + ": fitting and finishing", 1, seconds});
  }
  return done;
}

std::vector<ModuleWork> work_by_module(const Layout& layout, const std::vector<StockPlan>& plans) {
  if (!layout.rates) return {};
  const Rates& rates = *layout.rates;
  std::map<std::string, Tally> modules = tallies(layout);
  const Tally all = sum_of(modules);
  const double sawing = static_cast<double>(saw_cuts(plans)) * rates.cut;
  std::vector<ModuleWork> list;
  for (const Module& module : layout.modules) {
    const Tally& own = modules[module.name];
    double seconds = static_cast<double>(own.holes) * rates.hole +
                     static_cast<double>(own.joints) * rates.joint +
                     static_cast<double>(own.panels) * rates.panel;
    if (all.pieces > 0)
      seconds += sawing * static_cast<double>(own.pieces) / static_cast<double>(all.pieces);
    if (const auto more = rates.modules.find(module.name); more != rates.modules.end())
      seconds += more->second;
    list.push_back({title_of(module), seconds / 3600.0});
  }
  return list;
}

Quote quote(const Rates& rates, const std::vector<Work>& done, const PurchaseTotal& material) {
  Quote sum{.material = in_hundredths(material.cost), .unpriced = material.unpriced};
  for (const Work& each : done) sum.hours += each.hours();
  sum.labour = in_hundredths(sum.hours * rates.hour);
  sum.markup = in_hundredths(sum.material * rates.markup);
  sum.contingency =
      in_hundredths((sum.labour + sum.material + sum.markup) * rates.contingency);
  sum.total = sum.labour + sum.material + sum.markup + sum.contingency;
  return sum;
}

OutputFiles quote_files(const Layout& layout, const std::vector<StockPlan>& plans,
                        const std::vector<Purchase>& bought) {
  if (!layout.rates) return {};
  const std::vector<Work> done = work(layout, plans);
  const Quote sum = quote(*layout.rates, done, total(bought));
  const std::vector<ModuleWork> modules = work_by_module(layout, plans);
  const std::string title = "Quote: " + layout.project.title;
  std::string page = html_tag("h1", markup_escaped(title)) + "\n" + who_and_when(layout) +
                     picture_row(layout) + "<div class=\"sides\">\n" +
                     html_tag("div", html_tag("h2", "Work") + "\n" + work_table(done, sum.hours)) + "\n" +
                     html_tag("div", html_tag("h2", "Work by module") + "\n" +
                                         module_table(modules, sum.hours)) + "\n</div>\n" +
                     html_tag("h2", "Price") + "\n" + price_table(layout, sum);
  if (sum.unpriced > 0) {
    page += html_tag("p",
                     std::to_string(sum.unpriced) +
                         (sum.unpriced == 1 ? " thing" : " things") +
                         " to buy have no price and are not in the sum: see purchase.csv.",
                     "warn") +
            "\n";
  }
  page += html_tag("p",
                   "Times are reckoned from the drawings by rates for each cut, hole, joint and "
                   "panel. Taxes are not in it. Gas, mains electricity and whatever must be "
                   "inspected is done and signed by licensed people, and quoted by them.",
                   "note") +
          "\n<div class=\"signed\"><div>Approved by, date</div><div>Maker, date</div></div>\n";
  return {{"shop/quote.html", html_page(title, kStyle, page),
           "one page to approve: pictures, work, price"},
          work_list(done, modules, sum.hours)};
}

}  // namespace ribbay
