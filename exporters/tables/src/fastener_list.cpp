#include "catalogue/titles.hpp"
#include "structure/grips.hpp"
#include "table_text.hpp"
#include "tables/csv.hpp"
#include "tables/tables.hpp"

#include <map>
#include <tuple>

namespace ribbay {

namespace {

using namespace detail;

/// What a fastener sits in as the shop knows it: the stock of a part, by title.
std::string title_of(const Layout& layout, const std::string& what) {
  if (what == "vehicle/floor") return "floor of the van";
  if (what.starts_with("vehicle/")) return "the van: " + what.substr(what.find('/') + 1);
  const Part* part = layout.find(what);
  if (part == nullptr) return what;
  const std::string title = stock_title(*layout.catalogue, part->stock.key);
  return title.empty() ? part->title : title;
}

std::string layers_text(const Layout& layout, const Grip& grip) {
  std::vector<std::string> words;
  for (const GripLayer& layer : grip.layers)
    words.push_back(title_of(layout, layer.what) + ", " +
                    size_text(layer.thickness, layout.project.show) +
                    (layer.sleeve ? " with a compression sleeve" : ""));
  return join(words, " + ");
}

}  // namespace

OutputFile fastener_list(const Layout& layout) {
  const LengthStyle show = layout.project.show;
  const std::string unit = size_unit(show);
  const auto limit = [&](double mm) { return mm > 0.0 ? size_text(mm, show) : std::string(); };
  // Those that are alike share a row: all of its fields but the count and the ids.
  std::map<std::vector<std::string>, std::vector<std::string>> alike;
  for (const Grip& grip : grips(layout)) {
    const Bolt& bolt = layout.catalogue->bolts.find(layout.find(grip.id)->stock.key)->second;
    alike[{bolt.key, bolt.title, size_text(bolt.length, show), layers_text(layout, grip),
           size_text(grip.clamped, show),
           title_of(layout, grip.into) +
               (grip.under_floor ? " under the floor" : grip.riveted ? " in the van's sheet" : ""),
           size_text(grip.held, show),
           limit(grip.shortest), limit(grip.longest), std::string(name(grip.verdict)),
           grip.not_counted.empty() ? std::string()
                                    : "metal of joist " + grip.not_counted + ": measure it and add it"}]
        .push_back(grip.id);
  }
  Rows rows = {{"stock", "title", "length" + unit, "under the head", "grip" + unit, "held by",
                "held" + unit, "shortest" + unit, "longest" + unit, "verdict", "not counted", "count", "ids"}};
  for (const auto& [fields, ids] : alike) {
    rows.push_back(fields);
    rows.back().push_back(std::to_string(ids.size()));
    rows.back().push_back(join(ids, "; "));
  }
  return {"shop/fasteners.csv", csv_text(rows), "why each bolt and screw has its length"};
}

}  // namespace ribbay
