#include "sawing.hpp"

#include "base/text.hpp"
#include "spec/fields.hpp"

namespace ribbay::detail {

namespace {

constexpr double kLongest = 30'000.0;  ///< mm: longer is a slip of the pen
constexpr double kWidest = 100.0;      ///< mm, of a cut or a trim

FieldMaker width_field(std::string name) {
  return length_field(std::move(name)).at_least(0).at_most(kWidest);
}

void add_keys(const auto& entries, std::vector<std::string>& keys) {
  for (const auto& [key, entry] : entries) keys.push_back(key);
}

Finding no_such_stock(const std::string& found, const Record& record, const Catalogue& catalogue) {
  std::vector<std::string> keys;
  add_keys(catalogue.profiles, keys);
  add_keys(catalogue.planks, keys);
  add_keys(catalogue.sheets, keys);
  Finding finding = input_error("offcut.no_such_stock", record.place("of"));
  finding.with("found", found);
  const std::string near = nearest(found, keys);
  if (!near.empty()) finding.with("nearest", near);
  return finding;
}

}  // namespace

// The defaults are common practice, no source.
SchemaPtr saw_schema() {
  static const SchemaPtr schema = std::make_shared<const Schema>(Schema{
      "saw",
      "how the shop saws: the cutting plans reckon with it",
      {width_field("bar_kerf").otherwise("3 mm").means("width of a cut through a bar or a plank"),
       width_field("bar_trim")
           .otherwise("10 mm")
           .means("taken off each end of a bar first, its cut included"),
       width_field("bar_clamp")
           .otherwise("0 mm")
           .at_most(1000)
           .means("shortest rest of a bar that the saw can hold while the last piece is cut off"),
       width_field("sheet_kerf").otherwise("3 mm").means("width of a cut through a sheet"),
       width_field("sheet_trim")
           .otherwise("10 mm")
           .means("taken off each edge of a sheet first, its cut included"),
       length_field("keep_bar")
           .otherwise("300 mm")
           .at_least(0)
           .at_most(kLongest)
           .means("shortest rest of a bar that is kept as an offcut"),
       length_field("keep_sheet")
           .otherwise("200 mm")
           .at_least(0)
           .at_most(kLongest)
           .means("shortest side of a rest of a sheet that is kept as an offcut"),
       flag_field("three_stages")
           .otherwise("false")
           .means("true: sheets are sawn into strips, these across, and once more, as panel saws "
                  "do it")}});
  return schema;
}

SchemaPtr offcut_schema() {
  static const SchemaPtr schema = std::make_shared<const Schema>(Schema{
      "offcut",
      "what is left from earlier work and is cut up first; a build writes what it leaves itself to "
      "shop/offcuts.toml: copy it beside the project and include the copy next time",
      {text_field("of").needed().means("the profile, plank or sheet that it is of"),
       length_field("length").needed().above(0).at_most(kLongest).means(
           "its length; of a sheet with a grain along it"),
       length_field("width").above(0).at_most(kLongest).means("its width; of a sheet only"),
       count_field("count").otherwise("1").at_least(1).at_most(1000).means("how many there are")}});
  return schema;
}

Sawing read_sawing(const Record& record) {
  return {.bar_kerf = record.number("bar_kerf"),
          .bar_trim = record.number("bar_trim"),
          .bar_clamp = record.number("bar_clamp"),
          .sheet_kerf = record.number("sheet_kerf"),
          .sheet_trim = record.number("sheet_trim"),
          .keep_bar = record.number("keep_bar"),
          .keep_sheet = record.number("keep_sheet"),
          .three_stages = record.flag("three_stages")};
}

std::optional<Offcut> read_offcut(const std::string& name, const Record& record,
                                  const Catalogue& catalogue, Findings& findings) {
  Offcut offcut{.name = name,
                .stock = record.text("of"),
                .length = record.number("length"),
                .width = record.number_if("width").value_or(0.0),
                .count = static_cast<int>(record.number("count"))};
  const bool sheet = catalogue.sheets.contains(offcut.stock);
  const bool bar =
      catalogue.profiles.contains(offcut.stock) || catalogue.planks.contains(offcut.stock);
  if (!sheet && !bar) {
    findings.push_back(no_such_stock(offcut.stock, record, catalogue));
    findings.back().subjects = {"offcut." + name};
    return std::nullopt;
  }
  if (sheet != record.has("width")) {
    Finding finding =
        input_error("offcut.width", sheet ? record.place() : record.place("width"));
    finding.subjects = {"offcut." + name};
    findings.push_back(std::move(finding)
                           .with("found", offcut.stock)
                           .with("what", sheet ? "is a sheet, so a width is needed"
                                               : "is no sheet, so it has no width of its own"));
    return std::nullopt;
  }
  return offcut;
}

}  // namespace ribbay::detail
