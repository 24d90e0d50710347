#include "sample_layout.hpp"
#include "tables/tables.hpp"
#include "temporary_folder.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cstdio>
#include <fstream>

using namespace ribbay;

TEST_CASE("the cut list has one row for like pieces, with sizes, grain and ids", "[tables]") {
  const OutputFile file = cut_list(sample_layout());
  CHECK(file.path == "shop/cutlist.csv");
  CHECK(file.bytes ==
        "mark,title,stock,count,length_mm,width_mm,thickness_mm,grain,ends,edge_bands,material,mass_kg,ids\r\n"
        "M1,Rail,slotted_40,2,1000,,,,,,aluminium,2,rack/rail.left; rack/rail.right\r\n"
        "P1,\"Shelf, upper\",birch_18,1,600,400.063,18,along length,,,birch_plywood,6,rack/shelf\r\n");
}

TEST_CASE("the cut list tells what is drilled into ends and which edges are banded", "[tables]") {
  Layout layout = sample_layout();
  auto catalogue = std::make_shared<Catalogue>(*layout.catalogue);
  Finish band;
  band.key = "edge_22";
  band.title = "Edge band 22 mm";
  band.kind = FinishKind::edge_band;
  catalogue->finishes[band.key] = band;
  layout.catalogue = catalogue;
  for (Part& part : layout.parts) {
    if (part.kind == PartKind::panel)
      // The outline begins at the lower left corner and runs counter-clockwise.
      part.coverings = {{.finish = "edge_22", .edges = {1, 3}}};
    if (part.kind != PartKind::member) continue;
    Shape shape = box_shape({-20, -20, 0}, {20, 20, 1000});
    shape.prisms[0].prism.bores = {{.at = {0, 0, 1000}, .direction = {0, 0, -1}, .diameter = 6.8,
                                    .depth = 25, .thread = "M8", .role = BoreRole::end_tap},
                                   {.at = {0, 0, 0}, .direction = {0, 0, 1}, .diameter = 6.8,
                                    .depth = 20, .thread = "M8", .role = BoreRole::end_tap}};
    part.shape = std::make_shared<const Shape>(std::move(shape));
  }
  layout.modules.front().front = "right";  // the shelf is shown with its length lying
  const std::string text = cut_list(layout).bytes;
  CAPTURE(text);
  CHECK(text.find(",\"end 1: M8, 20 deep; end 2: M8, 25 deep\",,aluminium") != std::string::npos);
  CHECK(text.find(",along length,,\"right, left: Edge band 22 mm\",") != std::string::npos);
}

TEST_CASE("a project in inches gets a cut list in inches and sixty-fourths", "[tables]") {
  Layout layout = sample_layout();
  layout.project.show = LengthStyle::inches;
  // By hand: 1000 / 25.4 = 39.370 = 39 + 23.69/64, so 39 3/8; 600: 23.622 = 23 + 39.81/64, so 23
  // 5/8; 400.0625: 15.7505 = 15 3/4; 18: 0.70866 = 45.35/64.
  CHECK(cut_list(layout).bytes ==
        "mark,title,stock,count,length_in,width_in,thickness_in,grain,ends,edge_bands,material,mass_kg,ids\r\n"
        "M1,Rail,slotted_40,2,39 3/8,,,,,,aluminium,2,rack/rail.left; rack/rail.right\r\n"
        "P1,\"Shelf, upper\",birch_18,1,23 5/8,15 3/4,45/64,along "
        "length,,,birch_plywood,6,rack/shelf\r\n");
}

TEST_CASE("the hardware list counts what is bought, by catalogue key", "[tables]") {
  const OutputFile file = hardware_list(sample_layout());
  CHECK(file.path == "shop/hardware.csv");
  CHECK(file.bytes ==
        "stock,title,kind,count,modules\r\n"
        "battery_large,Battery,equipment,1,rack\r\n"
        "screw_4x16,Wood screw 4 x 16,hardware,3,rack\r\n");
}

TEST_CASE("the fastener list says what lies under each head and what holds the thread", "[tables]") {
  Layout layout = sample_layout();
  auto catalogue = std::make_shared<Catalogue>(*layout.catalogue);
  Bolt& bolt = catalogue->bolts["screw_4x16"];
  bolt.kind = BoltKind::wood;
  bolt.diameter = 4;
  bolt.length = 30;
  layout.catalogue = catalogue;
  // Three screws from above through the shelf of 18 mm into a board of 20 mm below it.
  Part board = box_part("rack/board", PartKind::panel, {0, -200, 980}, {600, 400, 20});
  board.title = "Board";
  layout.parts.push_back(board);
  std::ranges::sort(layout.parts, {}, &Part::id);
  for (Part& part : layout.parts) {
    if (part.stock.key != "screw_4x16") continue;
    part.shape = std::make_shared<const Shape>(box_shape({-2, -2, 0}, {2, 2, 30}));
    part.frame = frame_zx({100, 0, 1018}, {0, 0, -1}, {1, 0, 0});
    part.hosts = {"rack/shelf", "rack/board"};
  }
  // It holds 12 mm; 1.5 x 4 = 6 would do, and at 18 + 20 its tip would come out.
  CHECK(fastener_list(layout).bytes ==
        "stock,title,length_mm,under the head,grip_mm,held by,held_mm,shortest_mm,longest_mm,verdict,"
        "not counted,count,ids\r\n"
        "screw_4x16,Wood screw 4 x 16,30,\"birch_18, 18\",18,Board,12,24,38,reaches,,3,"
        "rack/screw.1; rack/screw.2; rack/screw.3\r\n");
}

TEST_CASE("a layout without parts gives headers only", "[tables]") {
  Layout layout = sample_layout();
  layout.parts.clear();
  for (const OutputFile& file : shop_tables(layout)) {
    CHECK(file.bytes.find("\r\n") == file.bytes.size() - 2);
  }
}

// Python's csv module did not write the file; it must read back the same fields.
TEST_CASE("another program reads the cut list", "[tables]") {
  const TemporaryFolder home;
  const std::string path = (home.path() / "cutlist.csv").string();
  std::ofstream(path, std::ios::binary) << cut_list(sample_layout()).bytes;
  const std::string script =
      "import csv; rows = list(csv.DictReader(open('" + path +
      "', newline=''), strict=True)); "
      "assert [r['mark'] for r in rows] == ['M1', 'P1']; "
      "assert rows[1]['title'] == 'Shelf, upper', rows[1]; "
      "assert sum(int(r['count']) for r in rows) == 3; "
      "assert rows[0]['ids'].split('; ') == ['rack/rail.left', 'rack/rail.right']";
  CHECK(std::system(("python3 -c \"" + script + "\"").c_str()) == 0);
}

TEST_CASE("the removal list tells the steps of each piece of equipment, in order", "[tables]") {
  Layout layout = sample_layout();
  CHECK(removal_list(layout).bytes ==
        "part,title,life in years,step,do,what,fasteners,tool,way,travel_mm,ids\r\n");
  layout.catalogue = std::make_shared<const Catalogue>();
  layout.removals.push_back({.id = "rack/battery",
                             .direction = {-1, 0, 0},
                             .travel = 300,
                             .fasteners = 2,
                             .life_years = 10,
                             .tool = "spanner 10 mm"});
  layout.removals.push_back({.id = "rack/shelf", .direction = {0, 0, 1}, .travel = 20});
  const OutputFile file = removal_list(layout);
  CHECK(file.path == "shop/removal.csv");
  CHECK(file.bytes ==
        "part,title,life in years,step,do,what,fasteners,tool,way,travel_mm,ids\r\n"
        "rack/battery,Battery,10,1,undo,its own fixings,2,spanner 10 mm,,,\r\n"
        "rack/battery,Battery,10,2,take out,Battery,,,to the rear,300,rack/battery\r\n");
}
