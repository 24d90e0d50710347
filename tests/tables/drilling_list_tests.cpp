#include "sample_layout.hpp"
#include "tables/tables.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace ribbay;

TEST_CASE("the drilling list tells each hole by face, from the datum corner", "[tables]") {
  Layout layout = sample_layout();
  layout.modules.front().front = "right";  // the shelf is shown with its length lying
  Part& shelf = *std::ranges::find(layout.parts, "rack/shelf", &Part::id);
  Shape shape = *shelf.shape;  // 600 x 400.063 x 18, its corner at 0, 0, 0
  shape.prisms[0].prism.bores = {
      // From the face at 18; from the back; into the left and the upper edge.
      {.at = {50, 30, 18}, .direction = {0, 0, -1}, .diameter = 4.5, .depth = 18, .through = true,
       .role = BoreRole::screw},
      {.at = {550, 30, 0}, .direction = {0, 0, 1}, .diameter = 35, .depth = 12.5,
       .role = BoreRole::cup},
      {.at = {0, 120, 9}, .direction = {1, 0, 0}, .diameter = 6, .depth = 20,
       .role = BoreRole::dowel},
      {.at = {200, 400.0629, 5}, .direction = {0, -1, 0}, .diameter = 3, .depth = 25,
       .role = BoreRole::pilot}};
  shelf.shape = std::make_shared<const Shape>(std::move(shape));
  // Face A is the back, where the blind hole is: its left is the right of the other face.
  const std::string start = "P1,\"Shelf, upper\",birch_18,1,";
  CHECK(drilling_list(layout).bytes ==
        "mark,title,stock,count,face,along_mm,across_mm,diameter_mm,depth_mm,through,thread,"
        "lean_deg,for\r\n" +
            start + "A,50,30,35,12.5,,,,hinge cup\r\n" + start + "A,550,30,4.5,,yes,,,screw\r\n" +
            start + "right,120,9,6,20,,,,dowel\r\n" + start + "top,400,5,3,25,,,,pilot\r\n");
}

TEST_CASE("a member's holes are told from end 1, those in its ends from its middle", "[tables]") {
  Layout layout = sample_layout();
  for (Part& part : layout.parts) {
    if (part.kind != PartKind::member) continue;
    Shape shape;
    shape.prisms.push_back({{.section = box_shape({-20, -20, 0}, {20, 20, 1}).prisms[0].prism.section,
                             .height = 1000},
                            {}});
    shape.prisms[0].prism.bores = {
        {.at = {0, 0, 1000}, .direction = {0, 0, -1}, .diameter = 6.8, .depth = 25, .thread = "M8",
         .role = BoreRole::end_tap},
        {.at = {20, 0, 300}, .direction = {-1, 0, 0}, .diameter = 8, .depth = 30,
         .role = BoreRole::access}};
    part.shape = std::make_shared<const Shape>(std::move(shape));
  }
  const std::string text = drilling_list(layout).bytes;
  CHECK(text.find("M1,Rail,slotted_40,2,end 2,0,0,6.8,25,,M8,,end tap\r\n") != std::string::npos);
  CHECK(text.find("M1,Rail,slotted_40,2,A,300,20,8,30,,,,access\r\n") != std::string::npos);
}
