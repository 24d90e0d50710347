#include "laid_out.hpp"
#include "layout/coverings.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

/// A wall 1594 wide, 1000 high and 17.7 thick (birch_18 between walls 1600 apart, 3 left at each).
const char* kWall = R"(
[sheet.wide]
based_on = "birch_18"
width = "1800 mm"
[module.partition]
kind = "partition"
faces = "front"
sheet = "wide"
height = "1000 mm"
place = { rear = "900 mm", between = "walls", on = "floor" }
)";

std::string finish(const std::string& fields) {
  return std::string(kWall) + "[module.partition.finishes.cover]\n" + fields;
}

const Part& wall(const Layout& layout) {
  return *layout.find("partition/piece_1");
}

const char* kTrayText = R"(
[module.tray]
kind = "tray"
faces = "rear"
sheet = "aluminium_1_5"
width = "400 mm"
depth = "300 mm"
height = "40 mm"
place = { rear = "100 mm", middle = "0 mm", bottom = "300 mm" }
)";

}  // namespace

TEST_CASE("a finish adds to what a part takes up, not to what is sawn", "[layout][finish]") {
  // Felt 4 mm on the face, which looks to the front of the van.
  const Layout bare = good(kWall);
  const Layout layout =
      good(finish("parts = [\"piece_1\"]\nfinish = \"felt\"\nturn_over = 0\n"));
  const Part& part = wall(layout);
  CHECK(part.stock.thickness == Approx(17.7));
  CHECK(part.stock.length == Approx(1000));
  CHECK(*part.shape == *wall(bare).shape);
  CHECK(bounds(part).size().x == Approx(17.7 + 4));
  CHECK(bounds(part).hi.x == Approx(bounds(wall(bare)).hi.x + 4));
  CHECK(bounds(part).size().y == Approx(1594));
  REQUIRE(part.coverings.size() == 1);
  CHECK(part.coverings.front().finish == "felt");
  // 0.3 kg/m2 on 1.594 m2.
  CHECK(part.mass_kg - wall(bare).mass_kg == Approx(0.3 * 1.594));
  CHECK(part.colour == "#7c8084");
}

TEST_CASE("a coat all round grows every side by its thickness", "[layout][finish]") {
  const Layout layout = good(finish("parts = [\"*\"]\nfaces = [\"all\"]\nfinish = \"paint_white\"\n"));
  const Vec3 size = bounds(wall(layout)).size();
  CHECK(size.x == Approx(17.7 + 2 * 0.12));
  CHECK(size.y == Approx(1594 + 2 * 0.12));
  CHECK(size.z == Approx(1000 + 2 * 0.12));
  const double area = 2 * 1594.0 * 1000 + 2 * (1594.0 + 1000) * 17.7;
  CHECK(covered_area(wall(layout), wall(layout).coverings.front()) == Approx(area));
  CHECK(volume(wall(layout).body()) == Approx(size.x * size.y * size.z));
}

TEST_CASE("a coat goes into openings and makes them smaller", "[layout][finish]") {
  const std::string pass = R"(
[module.partition.passes.x]
left = 100
right = -100
bottom = 300
top = 400
radius = 0
)";
  const Layout layout =
      good(finish("parts = [\"*\"]\nfaces = [\"all\"]\nfinish = \"paint_white\"\n") + pass);
  const double area =
      2 * (1594.0 * 1000 - 200 * 100) + (2 * (1594.0 + 1000) + 2 * (200 + 100)) * 17.7;
  CHECK(covered_area(wall(layout), wall(layout).coverings.front()) == Approx(area));
  const double t = 2 * 0.12;
  CHECK(volume(wall(layout).body()) ==
        Approx((17.7 + t) * ((1594 + t) * (1000 + t) - (200 - t) * (100 - t))));
}

TEST_CASE("a wrapped panel: face, edges and a strip on the back; its blank by hand",
          "[layout][finish]") {
  // Vinyl 1.1 mm, turned over by 30 mm as its catalogue entry says.
  const Layout layout = good(finish("parts = [\"*\"]\nfinish = \"vinyl\"\n"));
  const Part& part = wall(layout);
  const Vec3 size = bounds(part).size();
  CHECK(size.x == Approx(17.7 + 2 * 1.1));
  CHECK(size.y == Approx(1594 + 2 * 1.1));
  const double around = (1594 + 2.2) * (1000 + 2.2);
  const double inside = (1594.0 - 60) * (1000 - 60);
  CHECK(volume(part.body()) == Approx(around * (17.7 + 1.1) + (around - inside) * 1.1));
  const Vec2 blank = wrap_blank(part, part.coverings.front());
  CHECK(blank.x == Approx(1000 + 2 * (17.7 + 30)));
  CHECK(blank.y == Approx(1594 + 2 * (17.7 + 30)));
}

TEST_CASE("rounded corners grow with their finish", "[layout][finish]") {
  Part part;
  part.kind = PartKind::panel;
  Shape shape;
  shape.prisms.push_back({{.section = {rectangle({0, 0}, {100, 60}, 10), {}}, .height = 12}, {}});
  part.shape = std::make_shared<const Shape>(shape);
  part.coverings.push_back(
      {.finish = "x", .face = false, .back = false, .edges = {0, 1, 2, 3}, .thickness = 2});
  // Straight 80 and 40, and a whole circle of 10: 2 (80 + 40) + 20 pi.
  CHECK(covered_length(part, part.coverings.front()) == Approx(2 * (80 + 40) + 20 * 3.14159265359));
  part.coverings.front().edges = {1};
  CHECK(covered_length(part, part.coverings.front()) == Approx(40 + 10 * 3.14159265359 / 2));
}

TEST_CASE("a bent part grows on its flats and round its bends", "[layout][finish]") {
  const Layout bare = good(kTrayText);
  const Layout layout = good(std::string(kTrayText) + R"(
[module.tray.finishes.paint]
parts = ["tray"]
faces = ["all"]
finish = "paint_white"
)");
  const Part& part = *layout.find("tray/tray");
  const Vec3 size = bounds(part).size();
  // Depth 300 along x, width 400 along y; the outside of the walls is the back of the sheet.
  CHECK(size.x == Approx(300 + 2 * 0.12));
  CHECK(size.y == Approx(400 + 2 * 0.12));
  CHECK(size.z == Approx(40 + 2 * 0.12));
  CHECK(volume(part.body()) > volume(*part.shape));
  CHECK(part.stock.length == Approx(bare.find("tray/tray")->stock.length));
  // Both sides of the blank and its edge: what a paint on 1.5 mm sheet takes.
  const Prism& blank = part.flat->blank;
  const double area = 2 * ribbay::area(blank.section) + perimeter(blank.section.outer) * 1.5;
  CHECK(covered_area(part, part.coverings.front()) == Approx(area));
  // Its skin is what the finish fills, but for the corners where edges meet.
  CHECK(volume(part.body()) - volume(*part.shape) == Approx(area * 0.12).epsilon(0.01));
}

TEST_CASE("edges may be banded alone, and a mirrored module is covered alike", "[layout][finish]") {
  const std::string text = finish("parts = [\"*\"]\nfaces = [\"edges\"]\nfinish = \"edge_birch\"\n");
  const Layout layout = good(text);
  CHECK(bounds(wall(layout)).size().x == Approx(17.7));
  CHECK(bounds(wall(layout)).size().y == Approx(1594 + 2));
  CHECK(covered_length(wall(layout), wall(layout).coverings.front()) == Approx(2 * 2594.0));
  const Layout image = good(text, {"module.partition.mirrored=true"});
  CHECK(bounds(wall(image)).size().y == Approx(1594 + 2));
}

TEST_CASE("a star stands for any letters, and many of them take no longer", "[layout][finish]") {
  const auto covers = [](const std::string& pattern) {
    const auto built =
        lay_out_text(finish("parts = [\"" + pattern + "\"]\nfinish = \"felt\"\nturn_over = 0\n"));
    return !has_code(built.findings, "finish.no_such_part");
  };
  // The only part is called piece_1.
  for (const char* good : {"piece_1", "*", "p*_1", "*e*e*1", "**piece*_**1**", "piece_1*"}) {
    INFO(good);
    CHECK(covers(good));
  }
  for (const char* wrong : {"piece", "iece_1", "*e*e*e*", "p*_2", "piece_1?", "*1*p"}) {
    INFO(wrong);
    CHECK_FALSE(covers(wrong));
  }
  // Trying every way to share seven letters out between thirty stars would take hours.
  CHECK_FALSE(covers(std::string(2000, '*') + "x"));
}

TEST_CASE("what a finish cannot be is reported", "[layout][finish]") {
  const auto findings = [](const std::string& fields) { return lay_out_text(finish(fields)).findings; };
  const Findings unknown = findings("parts = [\"pice_1\"]\nfinish = \"felt\"\n");
  REQUIRE(has_code(unknown, "finish.no_such_part"));
  CHECK(words(unknown).find("piece_1") != std::string::npos);
  CHECK(has_code(findings("parts = [\"post_*\"]\nfinish = \"felt\"\n"), "finish.no_such_part"));
  CHECK(has_code(findings("parts = [\"*\"]\nfinish = \"edge_birch\"\n"), "finish.band_on_face"));
  CHECK(has_code(findings("parts = [\"*\"]\nfinish = \"paint_white\"\nturn_over = 20\n"),
                 "finish.turn_over"));
  CHECK(has_code(
      findings("parts = [\"*\"]\nfinish = \"vinyl\"\nfaces = [\"face\", \"back\"]\nturn_over = 20\n"),
      "finish.turn_over"));
  // The wall is 17.7 thick and 1000 high.
  CHECK_FALSE(has_errors(findings("parts = [\"*\"]\nfinish = \"edge_birch\"\nfaces = [\"edges\"]\n")));
  const auto narrow = lay_out_text(
      finish("parts = [\"*\"]\nfinish = \"edge_birch\"\nfaces = [\"edges\"]\n"),
      {"finish.edge_birch.width=17 mm"});
  const auto band = std::ranges::find(narrow.findings, "finish.narrow_band", &Finding::code);
  REQUIRE(band != narrow.findings.end());
  CHECK(std::get<double>(band->argument("measured")->value) == Approx(17));
  CHECK(std::get<double>(band->argument("required")->value) == Approx(17.7));
  CHECK(band->place);
  CHECK_FALSE(has_code(findings("parts = [\"*\"]\nfinish = \"vinyl\"\nturn_over = 500\n"),
                       "finish.wide_turn_over"));
  CHECK(has_code(findings("parts = [\"*\"]\nfinish = \"vinyl\"\nturn_over = 501\n"),
                 "finish.wide_turn_over"));
  // Felt of 4 mm all over closes a pass 6 mm high.
  CHECK(has_code(findings("parts = [\"*\"]\nfinish = \"felt\"\nfaces = [\"all\"]\n"
                          "[module.partition.passes.slot]\nleft = 100\nright = -100\nbottom = 300\n"
                          "top = 306\nradius = 0\n"),
                 "finish.too_thick"));
}

TEST_CASE("of films one lies on a side, and coats go over each other", "[layout][finish]") {
  const auto second = [](const std::string& fields) {
    const auto built = lay_out_text(finish("parts = [\"*\"]\nfinish = \"felt\"\n") +
                                    "[module.partition.finishes.second]\nparts = [\"piece_1\"]\n" + fields);
    INFO(words(built.findings));
    return has_code(built.findings, "finish.twice");
  };
  CHECK(second("finish = \"vinyl\"\n"));
  CHECK(second("finish = \"felt\"\n"));
  CHECK_FALSE(second("finish = \"paint_white\"\n"));
  CHECK_FALSE(second("finish = \"laminate\"\nfaces = [\"back\"]\n"));
}
