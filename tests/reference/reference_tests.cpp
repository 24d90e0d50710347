#include "catalogue/catalogue.hpp"
#include "layout/project.hpp"
#include "reference/reference.hpp"
#include "spec/fields.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <set>

using namespace ribbay;

namespace {

std::string file_text(const std::string& name) {
  std::ifstream in(RIBBAY_SOURCE_DIR "/params/" + name, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

/// As it stands in a cell of a Markdown table.
std::string cell(std::string text) {
  for (std::size_t at = text.find('|'); at != std::string::npos; at = text.find('|', at + 2)) {
    text.insert(at, 1, '\\');
  }
  return text;
}

}  // namespace

TEST_CASE("every field has a meaning, and every choice its choices", "[reference]") {
  for (const NamedSchema& of : project_schemas()) {
    CAPTURE(of.name);
    CHECK_FALSE(of.schema->meaning.empty());
    for (const auto& [path, field] : listed_fields(*of.schema)) {
      CAPTURE(path);
      CHECK_FALSE(field->meaning.empty());
      if (field->kind == FieldKind::choice) CHECK(field->choices.size() > 0);
      if (field->kind == FieldKind::reference) CHECK_FALSE(field->refers_to.empty());
    }
  }
}

// A size that may be negative is a slip; only a place or a way may lie on either side.
TEST_CASE("every length and every count says its least, or is a place", "[reference]") {
  const std::set<std::string, std::less<>> places{
      "about", "at",   "axis_inset", "axis_out", "bottom", "centre", "from",
      "front", "left", "middle",     "off_middle", "pitch", "rear",  "right",
      "rows",  "shape_at", "to", "top", "x",     "y"};
  // What is divided by it becomes as many as it is small.
  const std::set<std::string, std::less<>> steps{"spacing", "hole_spacing", "screw_pitch",
                                                 "batten_pitch", "covers"};
  std::set<std::string, std::less<>> used;
  for (const NamedSchema& of : project_schemas()) {
    for (const auto& [path, field] : listed_fields(*of.schema)) {
      if (field->dimension != dimension::length && field->kind != FieldKind::count) continue;
      CAPTURE(of.name, path);
      const bool limited = field->above || field->at_least;
      const bool place = places.contains(field->name) && field->kind != FieldKind::count;
      CHECK((limited || place));
      if (!limited && place) used.insert(field->name);
      if (steps.contains(field->name) && field->kind == FieldKind::quantity)
        CHECK(std::max(field->at_least.value_or(0.0), field->above.value_or(0.0)) >= 5.0);
    }
  }
  CHECK(used == places);
}

TEST_CASE("what a reference may name is known to the catalogue", "[reference]") {
  const Catalogue none;
  for (const NamedSchema& of : project_schemas()) {
    for (const auto& [path, field] : listed_fields(*of.schema)) {
      CAPTURE(of.name, path, field->refers_to);
      if (field->kind == FieldKind::reference) CHECK(none.keys(field->refers_to));
    }
  }
}

TEST_CASE("the reference tells every field with what may stand in it", "[reference]") {
  const std::string page = reference_markdown();
  for (const NamedSchema& of : project_schemas()) {
    CAPTURE(of.name);
    CHECK_THAT(page, Catch::Contains("\n### " + of.heading + "\n"));
    for (const auto& [path, field] : listed_fields(*of.schema)) {
      CAPTURE(path);
      CHECK_THAT(page,
                 Catch::Contains("\n| `" + path + "` | " + cell(describe_type(*field)) + " |"));
      for (const std::string& choice : field->choices) {
        CHECK_THAT(describe_type(*field), Catch::Contains(choice));
      }
    }
  }
  CHECK_THAT(page, Catch::Contains("| length | mm | `mm` "));
  CHECK_THAT(page, Catch::Contains("\n| `vehicle.station.NAME.x` | length |"));
  CHECK_THAT(page, Catch::Contains("\n| `clear_width("));
  CHECK_THAT(page, !Catch::Contains("<<"));
}

TEST_CASE("inner tables have dotted fields", "[reference]") {
  const std::vector<Field> inner = {length_field("deep").means("how deep")};
  const Schema schema{
      "outer",
      "",
      {table_field("one", inner), keyed_field("named", inner), list_field("row", inner)}};
  std::vector<std::string> paths;
  for (const ListedField& listed : listed_fields(schema)) paths.push_back(listed.path);
  const auto has = [&](const char* path) { return std::ranges::find(paths, path) != paths.end(); };
  for (const char* path : {"one", "one.deep", "named", "named.NAME.deep", "row", "row[].deep"}) {
    CAPTURE(path);
    CHECK(has(path));
  }
}

// `make reference` writes them again.
TEST_CASE("the committed reference and schemas are those of the program", "[reference]") {
  CHECK((file_text("REFERENCE.md") == reference_markdown()));
  CHECK((file_text("project.schema.json") == project_json_schema()));
  CHECK((file_text("vehicle.schema.json") == vehicle_json_schema()));
}
