#pragma once

#include "spec/document.hpp"
#include "spec/evaluator.hpp"
#include "spec/fields.hpp"

#include <memory>
#include <string>
#include <vector>

namespace ribbay {

/// A table with one field of every kind.
inline SchemaPtr thing_schema() {
  static const SchemaPtr schema = std::make_shared<const Schema>(Schema{
      "thing",
      "something to build",
      {length_field("width").above(0).at_most(3000).means("outside width"),
       length_field("depth").otherwise("18 mm").at_least(10).means("outside depth"),
       quantity_field("load", dimension::mass).at_least(0).means("what it carries"),
       angle_field("tilt").at_most(3.141592653589793).means("how far it leans"),
       quantity_field("density", dimension::density).means("of its material"),
       quantity_field("tank", dimension::volume).means("what it holds"),
       quantity_field("ratio", dimension::none).means("a plain number"),
       count_field("doors").at_most(8).means("how many doors"),
       count_field("screws").means("how many screws"),
       flag_field("mirrored").otherwise("false").means("left and right exchanged"),
       text_field("title").means("its name"),
       choice_field("side", {"left", "right", "rear"}).otherwise("left").means("where it stands"),
       reference_field("profile", "profile").means("what it is made of"),
       reference_field("nut", "nut").means("what no file has"),
       FieldMaker("drawing", FieldKind::path).means("a drawing of it"),
       date_field("made").means("when it was made"),
       lengths_field("levels").items(1, 3).means("heights of its shelves"),
       sizes_field("bays").above(0).means("widths of its bays"),
       FieldMaker("faces", FieldKind::texts).of({"oak", "birch"}).means("of its panels"),
       vector_field("at").means("where it is"),
       table_field("place", {length_field("gap").otherwise("0 mm").means("free space"),
                             text_field("on").needed().means("what it stands on")}),
       keyed_field("columns", {length_field("width").needed().above(0).means("of the column")}),
       list_field("boxes", {length_field("size").needed().means("of the box"),
                            length_field("twice").otherwise("2 * 10 mm").means("of the box")})}});
  return schema;
}

inline Resolvers thing_resolvers() {
  Resolvers resolvers;
  resolvers.name = [](std::string_view name) {
    if (name == "vehicle.width") return Lookup::of(1800.0, dimension::length);
    if (name == "thing.width") return Lookup::of(640.0, dimension::length);
    if (name == "vehicle.broken") return Lookup::reported();
    return Lookup{};
  };
  resolvers.question = [](std::string_view word, std::span<const Quantity> arguments) {
    if (word != "clear_width" || arguments.empty()) return Lookup{};
    return Lookup::of(2.0 * arguments[0].value, dimension::length);
  };
  resolvers.known_names = [] { return std::vector<std::string>{"vehicle.width"}; };
  resolvers.known_questions = [] { return std::vector<std::string>{"clear_width"}; };
  resolvers.catalogue = [](std::string_view kind) -> std::optional<std::vector<std::string>> {
    if (kind == "nut") return std::vector<std::string>{};
    if (kind != "profile") return std::nullopt;
    return std::vector<std::string>{"slotted_30", "slotted_40", "tube_20"};
  };
  return resolvers;
}

/// Everything that reading `[thing]` and [values] of a document says.
inline Findings faults_of(const Built<Document>& document) {
  Findings all = document.findings;
  Evaluator evaluator(document.value, thing_resolvers());
  evaluator.declare("thing", thing_schema(), "thing");
  evaluator.check_top_level({"format", "values", "options", "thing"});
  (void)evaluator.record("thing");
  evaluator.check_values();
  const Findings& more = evaluator.findings();
  all.insert(all.end(), more.begin(), more.end());
  return all;
}

}  // namespace ribbay
