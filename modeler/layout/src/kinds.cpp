#include "finishes.hpp"
#include "floor_angles.hpp"
#include "kind.hpp"
#include "repeat.hpp"
#include "spec/fields.hpp"

namespace ribbay::detail {

const std::vector<Kind>& kinds() {
  static const std::vector<Kind> table = {bench_kind(), bunk_kind(), custom_kind(),
                                          floor_kind(), galley_kind(), hatch_kind(),
                                          lining_kind(), locker_kind(), partition_kind(),
                                          rack_kind(), sled_kind(), table_kind(),
                                          tray_kind()};
  return table;
}

Field repeat_field() {
  return table_field(
             "repeat",
             {count_field("count")
                  .needed()
                  .at_least(1)
                  .at_most(kMostCopies)
                  .means("how many; it may use values and options, but nothing that is placed"),
              length_field("pitch").needed().means("from one to the next; negative: backwards"),
              choice_field("along", {"x", "y", "z"})
                  .needed()
                  .means("the way they follow each other, "
                         "in the van")})
      .means(
          "the module is made several times, as NAME_1, NAME_2 and so on, each fitted to the van "
          "where it stands; self.index counts them");
}

SchemaPtr module_schema(std::string kind, std::string meaning, std::vector<Field> own) {
  std::vector<Field> fields = {
      text_field("kind").needed().means("what is to be made: one of the kinds that `ribbay explain` lists"),
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
           length_field("centre").means("x of its middle, as for a joist or a rib"),
           length_field("middle").means("y of its middle"),
           text_field("behind").means("the module whose rear its front side touches"),
           text_field("ahead_of").means("the module whose front its rear side touches"),
           text_field("left_of").means("the module whose left its right side touches"),
           text_field("right_of").means("the module whose right its left side touches"),
           length_field("apart").at_least(0).means(
               "distance kept from each module named by behind, ahead_of, left_of or right_of"),
           choice_field("against", {"left wall", "right wall"})
               .means("the wall it stands against, clear of ribs and arches"),
           choice_field("between", {"walls"}).means("it stands in the middle between both walls"),
           length_field("gap").otherwise("0 mm").at_least(0).means(
               "distance kept from each wall named by against or between, and from the roof"),
           text_field("on").means("\"floor\", or the module whose top it stands on"),
           length_field("bottom").means("z of its underside"),
           length_field("top").means("z of its top"),
           choice_field("under", {"roof"})
               .means("it hangs under the lowest place of the roof and its bows over it, less the "
                      "gap; its ends across the van are said then")})
          .means(
              "where it stands, in the van's axes: one of rear, front, centre, behind and "
              "ahead_of; one of left, right, middle, left_of, right_of, against and between; one "
              "of on (default: floor), bottom, top and under. With both ends said and no size, it "
              "fills what is between them"),
      flag_field("mirrored")
          .otherwise("false")
          .means("true: made as its own mirror image, left and right exchanged as seen from its "
                 "front; place and faces are said as for any other, bought things follow the "
                 "catalogue's mirror and pair"),
      repeat_field(),
      when_field(),
      based_on_field(),
      keyed_field("gaps",
                  {text_field("to").needed().means("a module, a part id, or \"vehicle\""),
                   length_field("at_least").needed().at_least(0).means("the smallest gap allowed")})
          .means("gaps that must be kept to other things"),
      finishes_field(),
      floor_angles_field(),
  };
  fields.insert(fields.end(), std::make_move_iterator(own.begin()),
                std::make_move_iterator(own.end()));
  return std::make_shared<const Schema>(
      Schema{std::move(kind), std::move(meaning), std::move(fields)});
}

}  // namespace ribbay::detail
