// The order of styled items of equal content, which the kernel's writer takes from addresses: seen
// from the outside it comes up once in a few runs only, so it is made here.
#include "../../exporters/step/src/canonical.hpp"

#include <catch2/catch.hpp>

#include <string>

using ribbay::detail::canonical_step;

namespace {

/// Two products whose solids are alike, each with its styled item in a set of its own; `first` and
/// `second` are the solids that the sets style, in the order of the file.
std::string file(const std::string& first, const std::string& second) {
  return "ISO-10303-21;\nHEADER;\nENDSEC;\nDATA;\n"
         "#1=SHAPE_DEFINITION_REPRESENTATION('left',#2);\n#2=MANIFOLD_SOLID_BREP('',#3);\n#3="
         "CLOSED_SHELL('');\n"
         "#4=SHAPE_DEFINITION_REPRESENTATION('right',#5);\n#5=MANIFOLD_SOLID_BREP('',#6);\n#6="
         "CLOSED_SHELL('');\n"
         "#7=MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION('',(#8),#9);\n#8=STYLED_ITEM('"
         "color',(),#" +
         first +
         ");\n#9=CONTEXT();\n"
         "#10=MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION('',(#11),#12);\n#11=STYLED_"
         "ITEM('color',(),#" +
         second + ");\n#12=CONTEXT();\nENDSEC;\nEND-ISO-10303-21;\n";
}

}  // namespace

TEST_CASE("styled items of equal content are told apart by the products they belong to",
          "[step][bytes]") {
  const std::string a = canonical_step(file("2", "5"));
  REQUIRE_FALSE(a.empty());
  CHECK(a == canonical_step(file("5", "2")));
  CHECK(a != canonical_step(file("2", "2")));
}
