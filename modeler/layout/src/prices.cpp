#include "prices.hpp"

#include "base/text.hpp"
#include "spec/fields.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

std::vector<std::string> all_keys(const Catalogue& catalogue) {
  std::vector<std::string> keys;
  for (const auto& [kind, schema] : catalogue_schemas()) {
    if (kind == "material") continue;  // not bought as such
    if (const auto of_kind = catalogue.keys(kind))
      keys.insert(keys.end(), of_kind->begin(), of_kind->end());
  }
  return keys;
}

/// How something is sold: the field that says how much is in a package.
struct Sold {
  std::string by;  ///< "length", "area", "volume" or "pack"
  bool finish = false;
};

std::string sold_by(FinishKind kind) {
  switch (kind) {
    case FinishKind::coat:
      return "volume";
    case FinishKind::film:
      return "area";
    case FinishKind::edge_band:
      break;
  }
  return "length";
}

/// A key may be that of a sheet and of an edge band for it.
std::vector<Sold> ways_sold(const std::string& key, const Catalogue& catalogue) {
  std::vector<Sold> ways;
  for (const auto& [kind, schema] : catalogue_schemas()) {
    const auto keys = kind == "material" ? std::nullopt : catalogue.keys(kind);
    if (!keys || std::ranges::find(*keys, key) == keys->end()) continue;
    if (kind == "finish") ways.push_back({sold_by(catalogue.finishes.at(key).kind), true});
    else ways.push_back({kind == "profile" || kind == "plank" ? "length" : "pack", false});
  }
  return ways;
}

}  // namespace

SchemaPtr price_schema() {
  static const SchemaPtr schema = std::make_shared<const Schema>(Schema{
      "price",
      "what something of the catalogue costs where you buy it: cutting plans and the purchase list "
      "reckon with it",
      {text_field("of").means("the key of it in the catalogue; by default the name of this table"),
       quantity_field("price", dimension::money).needed().above(0).means("of one package"),
       length_field("length").above(0).means(
           "of bars, planks and edge bands: the length that the price is for; longer and shorter "
           "bars cost in proportion"),
       quantity_field("area", dimension::area).above(0).means(
           "of film: the area that the price is for"),
       quantity_field("volume", dimension::volume)
           .above(0)
           .means("of paint and oil: what a tin holds"),
       count_field("pack").at_least(1).at_most(100'000).means(
           "of everything else: how many come for that price; by default one"),
       count_field("spare").otherwise("0").at_least(0).at_most(100'000).means(
           "how many are bought beyond those needed, before packages are counted"),
       text_field("source").means("who asks that, and when")}});
  return schema;
}

// The default minutes are common practice, no source.
SchemaPtr rates_schema() {
  static const SchemaPtr schema = std::make_shared<const Schema>(Schema{
      "rates",
      "how long the work takes and what an hour costs: with this table a build writes a quote",
      {quantity_field("hour", dimension::money).needed().at_least(0).means("what an hour costs"),
       quantity_field("cut", dimension::time)
           .otherwise("2 min")
           .at_least(0)
           .means("for each saw cut, measuring included"),
       quantity_field("hole", dimension::time)
           .otherwise("1.5 min")
           .at_least(0)
           .means("for each hole, marking out included"),
       quantity_field("joint", dimension::time)
           .otherwise("5 min")
           .at_least(0)
           .means("for each joint that is put together"),
       quantity_field("panel", dimension::time)
           .otherwise("12 min")
           .at_least(0)
           .means("for each panel, plank and folded part: edges broken and sanded"),
       keyed_field("modules", {quantity_field("more", dimension::time)
                                   .needed()
                                   .at_least(0)
                                   .means("beyond cuts, holes, joints and panels: fitting it in the "
                                          "van, painting it")})
           .means("time that a module takes, by its name"),
       quantity_field("markup", dimension::none)
           .otherwise("0 %")
           .at_least(0)
           .at_most(10)
           .means("added to the price of material"),
       quantity_field("contingency", dimension::none)
           .otherwise("0 %")
           .at_least(0)
           .at_most(10)
           .means("added to all, for what nobody foresees"),
       text_field("customer").means("whom the quote is for")}});
  return schema;
}

std::optional<Price> read_price(const std::string& key, const Record& record,
                                const Catalogue& catalogue, Findings& findings) {
  const std::string of = record.text_or("of", key);
  const std::vector<Sold> ways = ways_sold(of, catalogue);
  if (ways.empty()) {
    const std::vector<std::string> keys = all_keys(catalogue);
    Finding finding =
        input_error("price.no_such_stock", record.has("of") ? record.place("of") : record.place());
    finding.subjects = {"price." + key};
    finding.with("found", of);
    const std::string near = nearest(of, keys);
    if (!near.empty()) finding.with("nearest", near);
    findings.push_back(std::move(finding));
    return std::nullopt;
  }
  std::string given = "pack";
  for (const char* field : {"length", "area", "volume"}) {
    if (record.has(field)) given = field;
  }
  const auto way = std::ranges::find(ways, given, &Sold::by);
  if (way == ways.end()) {
    Finding finding =
        input_error("price.amount", record.has(given) ? record.place(given) : record.place());
    finding.subjects = {"price." + key};
    findings.push_back(std::move(finding)
                           .with("found", of + (given == "pack" ? " is sold by the " + ways.front().by
                                                                : " is not sold by " + given))
                           .with("field", ways.front().by));
    return std::nullopt;
  }
  return Price{.key = of,
               .finish = way->finish,
               .money = record.number("price"),
               .amount = record.number_if(given).value_or(1.0),
               .spare = static_cast<int>(record.number("spare"))};
}

Rates read_rates(const Record& record) {
  Rates rates{.hour = record.number("hour"),
              .cut = record.number("cut"),
              .hole = record.number("hole"),
              .joint = record.number("joint"),
              .panel = record.number("panel"),
              .modules = {},
              .markup = record.number("markup"),
              .contingency = record.number("contingency"),
              .customer = record.text_or("customer", "")};
  for (const auto& [name, module] : record.tables("modules"))
    rates.modules[name] = module.number("more");
  return rates;
}

void check_rates(const Record& record, const std::vector<std::string>& modules,
                 Findings& findings) {
  for (const auto& [name, module] : record.tables("modules")) {
    if (std::ranges::find(modules, name) != modules.end()) continue;
    Finding finding = input_error("rates.no_such_module", module.place());
    finding.subjects = {"rates.modules." + name};
    finding.with("found", name);
    const std::string near = nearest(name, modules);
    if (!near.empty()) finding.with("nearest", near);
    findings.push_back(std::move(finding));
  }
}

}  // namespace ribbay::detail
