#include "planner.hpp"
#include "spec/currency.hpp"
#include "spec/fields.hpp"

#include <algorithm>

namespace ribbay::detail {

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
       text_field("currency")
           .otherwise("EUR")
           .means("currency of its prices: three capitals of ISO 4217"),
       FieldMaker("vehicle", FieldKind::path).needed().means("the vehicle file")}});
  return schema;
}

namespace {

bool names_a_folder(const std::string& name) {
  return !name.empty() && std::ranges::all_of(name, [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_';
  });
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
      .currency = currency};
  layout.tight = record.number("tight");
}

}  // namespace ribbay::detail
