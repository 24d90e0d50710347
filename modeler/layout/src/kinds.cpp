#include "kind.hpp"
#include "spec/fields.hpp"

namespace ribbay::detail {

const std::vector<Kind>& kinds() {
  static const std::vector<Kind> table = {bunk_kind(), galley_kind(), partition_kind(),
                                          rack_kind()};
  return table;
}

SchemaPtr module_schema(std::string kind, std::string meaning, std::vector<Field> own) {
  std::vector<Field> fields = {
      text_field("kind").needed().means("what is to be made: bunk, galley, partition or rack"),
      text_field("title").means("what drawings and lists call the module; by default its name"),
      choice_field("faces", {"rear", "front", "left", "right"})
          .needed()
          .means("the way its front looks, in the van"),
      length_field("width").above(0).means("size from left to right, seen from in front of it; "
                                           "between walls the clear width less the gaps"),
      length_field("depth").above(0).means("size from its front to its back"),
      length_field("height").above(0).means("size from its underside to its top"),
      table_field(
          "place",
          {length_field("rear").means("x of the side that is towards the rear of the van"),
           length_field("front").means("x of the side that is towards the front of the van"),
           length_field("left").means("y of its left side, in the van"),
           length_field("right").means("y of its right side, in the van"),
           length_field("middle").means("y of its middle"),
           choice_field("against", {"left wall", "right wall"})
               .means("the wall it stands against, clear of ribs and arches"),
           choice_field("between", {"walls"}).means("it stands in the middle between both walls"),
           length_field("gap").otherwise("0 mm").at_least(0).means(
               "distance kept from each wall named by against or between"),
           text_field("on").means("\"floor\", or the module whose top it stands on"),
           length_field("bottom").means("z of its underside"),
           length_field("top").means("z of its top")})
          .means("where it stands: one of rear and front; one of left, right, middle, against and "
                 "between; one of on (default: floor), bottom and top"),
      keyed_field("gaps",
                  {text_field("to").needed().means("a module, a part id, or \"vehicle\""),
                   length_field("at_least").needed().at_least(0).means("the smallest gap allowed")})
          .means("gaps that must be kept to other things"),
  };
  fields.insert(fields.end(), std::make_move_iterator(own.begin()),
                std::make_move_iterator(own.end()));
  return std::make_shared<const Schema>(
      Schema{std::move(kind), std::move(meaning), std::move(fields)});
}

}  // namespace ribbay::detail
