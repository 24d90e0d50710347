#include "layout/wood.hpp"
#include "planner.hpp"
#include "spec/currency.hpp"
#include "spec/fields.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

constexpr double kCelsiusZero = 273.15;  // K
// kg, of trained people now and then, by ISO 11228-1 (from memory): no plan asks one for more.
constexpr double kHeaviestLift = 40.0;

FieldMaker temperature_field(std::string name) {
  return quantity_field(std::move(name), dimension::temperature)
      .at_least(kCelsiusZero - 80)
      .at_most(kCelsiusZero + 120);
}

/// In percent, where the movement of wood is known.
FieldMaker moisture_field(std::string name) {
  return quantity_field(std::move(name), dimension::none)
      .at_least(kDriestWood)
      .at_most(kWettestWood);
}

}  // namespace

SchemaPtr project_schema() {
  static const SchemaPtr schema = std::make_shared<const Schema>(Schema{
      "project",
      "what the project is, and which van it is for",
      {text_field("name").needed().means("name of the output folder: small letters, digits and _"),
       text_field("title").means("what drawings and reports call the project; by default its name"),
       date_field("date").means("date of issue on drawings and in files"),
       text_field("author").means("who made it; printed in the title block"),
       choice_field("show", {"mm", "in"})
           .otherwise("mm")
           .means("unit that drawings and lists print"),
       choice_field("projection", {"first angle", "third angle"})
           .otherwise("first angle")
           .means("how the views of a drawing are arranged"),
       length_field("tight").otherwise("1 mm").at_least(0).means(
           "gaps between modules, and between a module and the van, below this are reported"),
       temperature_field("coldest")
           .otherwise("-20 degC")
           .means("coldest that the van gets, as in a winter's night: joints of unlike materials "
                  "are checked from there"),
       temperature_field("warmest")
           .otherwise("60 degC")
           .means("warmest that its panels get, as in the sun: joints are checked up to there"),
       moisture_field("driest_wood")
           .otherwise("6")
           .means("least moisture of solid wood in a year, percent of its dry mass, as after a "
                  "heated winter; the movement of wood is known from 6 to 14"),
       moisture_field("wettest_wood")
           .otherwise("14")
           .means("most moisture of solid wood in a year, percent, as after wet weeks unheated"),
       text_field("currency")
           .otherwise("EUR")
           .means("currency of its prices: three capitals of ISO 4217"),
       mass_field("one_person_lifts")
           .otherwise("25 kg")
           .at_least(1)
           .at_most(kHeaviestLift)
           .means("what one person lifts alone: steps of assembly ask for two people or a prop "
                  "above it; by default the reference mass of ISO 11228-1"),
       FieldMaker("vehicle", FieldKind::path).needed().means("the vehicle file")}});
  return schema;
}

namespace {

bool names_a_folder(const std::string& name) {
  return !name.empty() && std::ranges::all_of(name, [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_';
  });
}

/// The lower end of a range must lie below its upper end.
void check_range(const Record& record, const char* low, const char* high,
                 std::string (*shown)(double), Findings& findings) {
  if (record.number(low) < record.number(high)) return;
  Finding finding = input_error("layout.range_turned",
                                record.place(record.given(low) ? low : high));
  finding.subjects = {"project"};
  findings.push_back(std::move(finding.with("low", low)
                                   .with("high", high)
                                   .with("measured", shown(record.number(low)))
                                   .with("required", shown(record.number(high)))));
}

Climate read_climate(const Record& record, Findings& findings) {
  check_range(record, "coldest", "warmest", celsius_text, findings);
  check_range(
      record, "driest_wood", "wettest_wood",
      [](double percent) { return rounded_text(percent, 1) + " %"; }, findings);
  return {.coldest = record.number("coldest"),
          .warmest = record.number("warmest"),
          .driest = record.number("driest_wood"),
          .wettest = record.number("wettest_wood")};
}

}  // namespace

void read_info(const Record& record, Layout& layout, Findings& findings) {
  const std::string& name = record.text("name");
  if (!names_a_folder(name)) {
    findings.push_back(
        input_error("layout.project_name", record.place("name")).with("found", name));
  }
  const std::string& currency = record.text("currency");
  if (!is_currency(currency)) {
    findings.push_back(
        input_error("layout.currency", record.place("currency")).with("found", currency));
  }
  layout.project = {
      .name = name,
      .title = record.text_or("title", name),
      .date = record.text_or("date", ""),
      .author = record.text_or("author", ""),
      .show = record.text("show") == "in" ? LengthStyle::inches : LengthStyle::millimetres,
      .first_angle = record.text("projection") == "first angle",
      .currency = currency,
      .one_person_lifts = record.number("one_person_lifts")};
  layout.climate = read_climate(record, findings);
  layout.tight = record.number("tight");
}

}  // namespace ribbay::detail
