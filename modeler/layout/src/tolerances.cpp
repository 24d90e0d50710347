#include "tolerances.hpp"

#include "spec/fields.hpp"

namespace ribbay::detail {

namespace {

constexpr double kCoarsest = 20.0;  ///< mm: more is a slip of the pen

FieldMaker tolerance_field(std::string name, std::string otherwise) {
  return length_field(std::move(name))
      .otherwise(std::move(otherwise))
      .at_least(0)
      .at_most(kCoarsest);
}

}  // namespace

// The defaults are common practice, no source.
SchemaPtr tolerances_schema() {
  static const SchemaPtr schema = std::make_shared<const Schema>(Schema{
      "tolerances",
      "how far what is built may lie from what is drawn, plus or minus: the stacks of gaps reckon "
      "with it. The defaults are common practice, no source. How far the survey of the van may be "
      "wrong stands in the vehicle file, and the limits of a sheet's thickness in the catalogue",
      {tolerance_field("saw", "0.5 mm").means("a size cut by the saw"),
       tolerance_field("sheet", "0.3 mm")
           .means("the thickness of sheets whose limits the catalogue does not give, and of planks"),
       tolerance_field("profile", "0.2 mm").means("the cross-section of a profile"),
       tolerance_field("folding", "0.5 mm").means("a size of folded sheet"),
       tolerance_field("bought", "0.5 mm").means("a size of equipment or hardware"),
       tolerance_field("assembly", "0.4 mm")
           .means("where a part lies that is marked, drilled and set by hand along another one"),
       tolerance_field("fitting", "1 mm").means("where a module is set in the van"),
       tolerance_field("play", "0.5 mm")
           .means("how far a drawer or door moves on its slides or hinges across its way")}});
  return schema;
}

Tolerances read_tolerances(const Record& record) {
  return {.saw = record.number("saw"),
          .sheet = record.number("sheet"),
          .profile = record.number("profile"),
          .folding = record.number("folding"),
          .bought = record.number("bought"),
          .assembly = record.number("assembly"),
          .fitting = record.number("fitting"),
          .play = record.number("play")};
}

}  // namespace ribbay::detail
