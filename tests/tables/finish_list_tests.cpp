#include "laid_out.hpp"
#include "tables/tables.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

const char* kWall = R"(
[sheet.wide]
based_on = "birch_9"
width = "1800 mm"
[module.partition]
kind = "partition"
faces = "front"
sheet = "wide"
height = "1000 mm"
place = { rear = "900 mm", between = "walls", on = "floor" }
)";

bool has_line(const std::string& text, const std::string& line) {
  return text.find("\r\n" + line + "\r\n") != std::string::npos;
}

}  // namespace

TEST_CASE("what is to buy of a finish is told with its waste", "[tables][finish]") {
  const Layout layout = good(std::string(kWall) + R"(
[module.partition.finishes.lacquer]
parts = ["*"]
faces = ["face", "back"]
finish = "lacquer"
[module.partition.finishes.band]
parts = ["*"]
faces = ["edges"]
finish = "edge_birch"
)");
  const std::string text = finish_list(layout).bytes;
  INFO(text);
  // 1594 x 1000 on both sides: 3.188 m2; three coats of 11 m2 from a litre: 0.869 l, and a tenth.
  CHECK(has_line(text, "lacquer,\"Water-borne lacquer, three coats\",coat,P1,Partition piece,1,face; "
                       "back,3.188,3,0,0.869,l,,,partition/piece_1"));
  CHECK(has_line(text, "lacquer,\"Water-borne lacquer, three coats\",coat,total,to buy,1,,3.188,3,10,"
                       "0.956,l,,,"));
  // 2 x (1594 + 1000) of band.
  CHECK(has_line(text, "edge_birch,Birch edge band 1 mm,edge band,total,to buy,1,,0.048,,10,5.707,m,,,"));
}

TEST_CASE("a wrap's blank stands in the list of finishes", "[tables][finish]") {
  const Layout layout = good(std::string(kWall) + R"(
[module.partition.finishes.wrap]
parts = ["*"]
finish = "vinyl"
)");
  // 1000 and 1594, and twice 9.2 of edge and 30 turned over at each end.
  const std::string text = finish_list(layout).bytes;
  INFO(text);
  CHECK(text.find(",m2,1078.4,1672.4,partition/piece_1") != std::string::npos);
  CHECK(shop_tables(layout).size() == 3);
  CHECK(shop_tables(good(kWall)).size() == 2);
}

TEST_CASE("planks are listed in the order they are laid", "[tables][planks]") {
  const Layout layout = good(std::string(kWall) + "planks = { plank = \"maple_9\", moisture = [8, "
                                                  "12], today = 10, first = \"80 mm\" }\n");
  const std::string text = board_map(layout).bytes;
  INFO(text);
  // 84 x 0.00353 x 2 points to the wettest: 0.593 between boards.
  CHECK(text.find("\r\npartition,1,B") != std::string::npos);
  CHECK(text.find(",maple_9,1000,86,sawn off,yes,0.593,partition/plank_1\r\n") !=
        std::string::npos);
  CHECK(text.find(",maple_9,1000,90,yes,yes,0.593,partition/plank_2\r\n") != std::string::npos);
}
