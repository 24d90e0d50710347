#include "costs/quote.hpp"

#include "base/text.hpp"
#include "drawings/drawings.hpp"
#include "money.hpp"
#include "base/markup.hpp"
#include "tables/html.hpp"

#include <algorithm>

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

std::size_t holes(const Layout& layout) {
  std::size_t count = 0;
  for (const Part& part : layout.parts) {
    if (!is_made(part.kind)) continue;
    for (const PlacedPrism& prism : part.shape->prisms) count += prism.prism.bores.size();
  }
  return count;
}

std::size_t panels(const Layout& layout) {
  return static_cast<std::size_t>(std::ranges::count_if(layout.parts, [](const Part& part) {
    return is_made(part.kind) && part.kind != PartKind::member;
  }));
}

constexpr const char* kStyle = R"(
body { font: 15px/1.45 sans-serif; color: #1c2024; margin: 2rem auto; max-width: 56rem; padding: 0 1rem; }
h1 { font-size: 1.5rem; margin-bottom: .2rem; } h2 { font-size: 1.1rem; margin-top: 1.6rem; }
table { border-collapse: collapse; width: 100%; }
th, td { border-bottom: 1px solid #c9ced3; padding: .25rem .5rem; text-align: left; }
td.number, th.number { text-align: right; white-space: nowrap; }
tr.sum td { border-top: 2px solid #1c2024; font-weight: bold; }
.pictures { display: flex; flex-wrap: wrap; gap: 1rem; }
figure { margin: 0; width: 12.5rem; } figure img { width: 100%; height: 9rem; object-fit: contain; }
figcaption { font-size: .87em; text-align: center; }
.warn { background: #faf0d2; padding: .4rem .6rem; } .note { color: #555c63; font-size: .87em; }
.signed { display: flex; gap: 3rem; margin-top: 3rem; } .signed div { flex: 1; border-top: 1px solid #1c2024; }
@media print { body { margin: 0; max-width: none; } table, figure { break-inside: avoid; } }
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

std::string work_table(const std::vector<Work>& done) {
  std::string rows = html_tag("tr", html_tag("th", "Work") + html_tag("th", "Number", "number") +
                                        html_tag("th", "Hours", "number")) +
                     "\n";
  double hours = 0.0;
  for (const Work& each : done) {
    rows += html_tag("tr", html_tag("td", markup_escaped(each.what)) +
                               number_cell(std::to_string(each.count)) +
                               number_cell(rounded_text(each.hours(), 1))) +
            "\n";
    hours += each.hours();
  }
  rows += html_tag("tr", html_tag("td", "All work") + number_cell("") +
                             number_cell(rounded_text(hours, 1)), "sum") +
          "\n";
  return html_tag("table", "\n" + rows) + "\n";
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
  std::vector<Work> done{{"Saw cuts", saw_cuts(plans), rates.cut},
                         {"Holes", holes(layout), rates.hole},
                         {"Joints", layout.joints.size(), rates.joint},
                         {"Panels, planks and folded parts, edges broken", panels(layout),
                          rates.panel}};
  for (const auto& [name, seconds] : rates.modules) {
    const Module* module = layout.module(name);
    if (module == nullptr) continue;  // left out of this van
    done.push_back({(module->title.empty() ? name : module->title) + ": fitting and finishing", 1,
                    seconds});
  }
  return done;
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
  const std::string title = markup_escaped(layout.project.title);
  std::string page = "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n" +
                     html_tag("title", "Quote: " + title) + "\n<style>" + kStyle +
                     "</style>\n</head>\n<body>\n" + html_tag("h1", "Quote: " + title) + "\n" +
                     who_and_when(layout) + picture_row(layout) + html_tag("h2", "Work") + "\n" +
                     work_table(done) + html_tag("h2", "Price") + "\n" + price_table(layout, sum);
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
          "\n<div class=\"signed\"><div>Approved by, date</div><div>Maker, date</div></div>\n"
          "</body>\n</html>\n";
  return {{"shop/quote.html", page, "one page to approve: pictures, work, price"}};
}

}  // namespace ribbay
