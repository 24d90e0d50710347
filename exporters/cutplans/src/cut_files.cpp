#include "base/text.hpp"
#include "cut_proof.hpp"
#include "cutplans/cut_text.hpp"
#include "cutplans/shop_cuts.hpp"
#include "shared_rectangles.hpp"
#include "sheet_words.hpp"
#include "tables/csv.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

namespace ribbay {

namespace {

using namespace detail;
using Rows = std::vector<std::vector<std::string>>;

std::string in_unit(const char* what, LengthStyle show) {
  return std::string(what) + (show == LengthStyle::inches ? " in" : " mm");
}

// Bars and planks -----------------------------------------------------------------------------

void add_bars(const StockPlan& plan, LengthStyle show, Rows& rows) {
  if (plan.plans.bars.empty()) return;
  const BarOrder& order = plan.orders.bars.front();
  int bar = 0;
  for (const BarLayout& layout : plan.plans.bars.front().layouts) {
    const BarStock& stock = order.stock[layout.stock];
    const std::string bars =
        std::to_string(bar + 1) +
        (layout.count > 1 ? " to " + std::to_string(bar + layout.count) : std::string());
    bar += layout.count;
    double at = order.saw.trim;
    for (std::size_t i = 0; i < layout.pieces.size(); ++i) {
      const BarPiece& piece = order.pieces[layout.pieces[i]];
      const bool last = i + 1 == layout.pieces.size();
      rows.push_back({plan.key, bars, stock.label, length_text(stock.length, show),
                      std::to_string(i + 1), piece.label, length_text(piece.length, show),
                      length_text(at, show), length_text(at + piece.length, show),
                      last ? length_text(layout.rest, show) : ""});
      at += piece.length + order.saw.kerf;
    }
  }
}

std::string bars_csv(const std::vector<StockPlan>& plans, LengthStyle show) {
  Rows rows{{"stock", "bar", "cut from", in_unit("bar length", show), "cut", "mark",
             in_unit("length", show), in_unit("from", show), in_unit("to", show),
             in_unit("rest", show)}};
  for (const StockPlan& plan : plans) add_bars(plan, show, rows);
  return csv_text(rows);
}

// Sheets --------------------------------------------------------------------------------------

void add_sheets(const StockPlan& plan, LengthStyle show, Rows& rows) {
  if (plan.plans.sheets.empty()) return;
  const SheetOrder& order = plan.orders.sheets.front();
  int sheet = 0;
  for (const SheetLayout& layout : plan.plans.sheets.front().layouts) {
    ++sheet;
    int number = 0;
    for (const SheetCut& cut : layout.cuts) {
      const auto words = [&](std::size_t part) { return part_words(order, layout, part, show); };
      rows.push_back({plan.key, std::to_string(sheet), order.stock[layout.stock].label,
                      std::to_string(++number), words(cut.part), cut.rip ? "along" : "across",
                      length_text(cut.fence, show), words(cut.first),
                      cut.rest ? words(*cut.rest) : ""});
    }
  }
}

std::string sheets_csv(const std::vector<StockPlan>& plans, LengthStyle show) {
  Rows rows{{"stock", "sheet", "cut from", "cut", "of", "direction", in_unit("fence", show),
             "gives", "leaves"}};
  for (const StockPlan& plan : plans) add_sheets(plan, show, rows);
  return csv_text(rows);
}

// Both ----------------------------------------------------------------------------------------

bool has_plan(const StockPlan& plan) {
  return !plan.plans.bars.empty() || !plan.plans.sheets.empty();
}

/// What cutting to length leaves to be done.
std::string rip_lines(const StockPlan& plan, LengthStyle show) {
  std::string lines;
  for (const Rip& rip : plan.rips) {
    std::vector<std::string> off;
    if (rip.groove) off.emplace_back("groove");
    if (rip.tongue) off.emplace_back("tongue");
    lines += rip.mark + ": then rip to " + value_text(rip.width, Unit::mm, show) +
             (off.empty() ? "" : ", " + join(off, " and ") + " sawn off") + "\n";
  }
  return lines.empty() ? "" : lines + "\n";
}

std::string cutting_text(const std::vector<StockPlan>& plans, const Sawing& saw,
                         LengthStyle show) {
  const auto words = [&](double mm) { return value_text(mm, Unit::mm, show); };
  std::string page = "Bars and planks: saw cut " + words(saw.bar_kerf) + ", " +
                     words(saw.bar_trim) + " taken off each end. Sheets: saw cut " +
                     words(saw.sheet_kerf) + ", " + words(saw.sheet_trim) +
                     " taken off each edge.\nAlong and across are those of the whole sheet, "
                     "along its first size, however a part lies. Fence: from fence to blade; "
                     "gives: the part\nbetween the two; leaves: what lies beyond the blade. A "
                     "stage has cuts of one direction. Marks as on the drawings and in "
                     "cutlist.csv.\nMeasure the stock before the first cut; saws need their "
                     "guards.\n";
  for (const StockPlan& plan : plans) {
    if (!has_plan(plan)) continue;
    const std::string heading = plan.title + " (" + plan.key + ")";
    page += "\n" + heading + "\n" + std::string(character_count(heading), '-') + "\n" +
            sharing_words(plan, show) + rip_lines(plan, show) +
            cut_text(plan.orders, plan.plans, show);
  }
  return page;
}

/// What is left, and what was not needed, by stock: as an offcuts file that a project includes.
class Offcuts {
 public:
  explicit Offcuts(const Layout& layout) : layout_(layout) {
    for (const Offcut& offcut : layout.offcuts) left_["offcut " + offcut.name] = offcut.count;
  }

  void take(const StockPlan& plan) {
    if (!plan.plans.bars.empty()) take_bars(plan);
    if (!plan.plans.sheets.empty()) take_sheets(plan);
  }

  std::string text() {
    for (const Offcut& offcut : layout_.offcuts) {
      const int count = left_.at("offcut " + offcut.name);
      if (count > 0) keep(offcut.stock, offcut.length, offcut.width, count);
    }
    std::string page =
        "# What is left when everything is cut as planned, and what was not needed: include this "
        "file\n# next time in place of the one before.\nformat = 1\n";
    std::map<std::string, int> numbers;
    for (const auto& [kept, count] : kept_) {
      const auto& [stock, length, width] = kept;
      page += "\n[offcut." + stock + "_" + std::to_string(++numbers[stock]) + "]\nof = \"" + stock +
              "\"\nlength = \"" + number_text(length) + " mm\"\n";
      if (width > 0.0) page += "width = \"" + number_text(width) + " mm\"\n";
      if (count > 1) page += "count = " + std::to_string(count) + "\n";
    }
    return page;
  }

  bool empty() const { return kept_.empty() && layout_.offcuts.empty(); }

 private:
  /// Rounded down to what a saw can tell.
  static double down(double mm) { return std::floor(mm * 100.0 + 1e-6) / 100.0; }

  void keep(const std::string& stock, double length, double width, int count) {
    kept_[{stock, down(length), down(width)}] += count;
  }

  void use(const std::string& label, int count) {
    if (const auto found = left_.find(label); found != left_.end()) found->second -= count;
  }

  void take_bars(const StockPlan& plan) {
    const BarOrder& order = plan.orders.bars.front();
    for (const BarLayout& layout : plan.plans.bars.front().layouts) {
      use(order.stock[layout.stock].label, layout.count);
      if (layout.rest >= layout_.sawing.keep_bar)
        keep(plan.key, layout.rest, 0.0, layout.count);
    }
  }

  void take_sheets(const StockPlan& plan) {
    const SheetOrder& order = plan.orders.sheets.front();
    for (const SheetLayout& layout : plan.plans.sheets.front().layouts) {
      use(order.stock[layout.stock].label, 1);
      for (std::size_t p = 1; p < layout.parts.size(); ++p) {
        const SheetPart& part = layout.parts[p];
        const bool rest = !part.piece && !is_cut_on(layout, p);
        if (rest && std::min(part.length, part.width) >= layout_.sawing.keep_sheet)
          keep(plan.key, part.length, part.width, 1);
      }
    }
  }

  const Layout& layout_;
  std::map<std::string, int> left_;
  std::map<std::tuple<std::string, double, double>, int> kept_;
};

}  // namespace

OutputFiles cut_files(const Layout& layout, const std::vector<StockPlan>& plans) {
  const LengthStyle show = layout.project.show;
  OutputFiles files;
  const bool bars =
      std::ranges::any_of(plans, [](const StockPlan& plan) { return !plan.plans.bars.empty(); });
  const bool sheets =
      std::ranges::any_of(plans, [](const StockPlan& plan) { return !plan.plans.sheets.empty(); });
  if (bars || sheets) {
    files.push_back({"shop/cutting.txt", cutting_text(plans, layout.sawing, show),
                     "how bars, planks and sheets are cut, in the order of the cuts"});
  }
  if (bars) {
    files.push_back({"shop/bars.csv", bars_csv(plans, show), "cuts of bars and planks"});
    files.push_back({"shop/bars-proof.json", proofs_json(plans),
                     "why fewer bars do not suffice, for an independent checker"});
  }
  if (sheets) files.push_back({"shop/sheets.csv", sheets_csv(plans, show), "cuts of sheets"});
  Offcuts offcuts(layout);
  for (const StockPlan& plan : plans) offcuts.take(plan);
  if (!offcuts.empty())
    files.push_back({"shop/offcuts.toml", offcuts.text(), "what is left, to be included next time"});
  return files;
}

}  // namespace ribbay
