#include "files.hpp"

#include <numbers>

using namespace ribbay;

namespace {

Record thing(const std::string& fields) {
  const auto document = load("[thing]\n" + fields);
  REQUIRE(document.findings.empty());
  Evaluator evaluator(document.value, thing_resolvers());
  evaluator.declare("thing", thing_schema(), "thing");
  const auto record = evaluator.record("thing");
  CAPTURE(words(evaluator.findings()));
  REQUIRE(record);
  return *record;
}

}  // namespace

TEST_CASE("a record holds every kind of field in canonical units", "[spec][record]") {
  const Record r = thing(R"(
width = "2 ft"
load = "10 lb"
tilt = 45
density = 700
tank = "20 l"
ratio = "3 / 4"
doors = 2
screws = "4 * self.doors"
mirrored = true
title = "Rack, left"
side = "rear"
profile = "tube_20"
drawing = "pictures/rack.svg"
made = 2026-11-24
levels = [0, "410 mm", "self.width"]
bays = ["1 share", "500 mm", 20, "1 1/2 shares", "0.5 share", "1/4 share", "2shares"]
faces = ["oak", "birch", "oak"]
at = [1, "2 in", -3]
place = { gap = "1 cm", on = "floor" }
[[thing.boxes]]
size = 1
[[thing.boxes]]
size = 2
twice = 3
[thing.columns.second]
width = 200
[thing.columns.first]
width = "self.width - 9.6 mm"
)");
  CHECK(r.number("width") == 609.6);
  CHECK(r.number("load") == Approx(4.5359237));
  CHECK(r.number("tilt") == Approx(std::numbers::pi / 4));
  CHECK(r.number("density") == Approx(7e-7));
  CHECK(r.number("tank") == 2e7);
  CHECK(r.number("ratio") == 0.75);
  CHECK(r.number("doors") == 2.0);
  CHECK(r.number("screws") == 8.0);
  CHECK(r.flag("mirrored"));
  CHECK(r.text("title") == "Rack, left");
  CHECK(r.text("side") == "rear");
  CHECK(r.text("profile") == "tube_20");
  CHECK(r.text("drawing") == "pictures/rack.svg");
  CHECK(r.text("made") == "2026-11-24");
  CHECK(r.numbers("levels") == std::vector<double>{0, 410, 609.6});
  CHECK(r.sizes("bays") ==
        std::vector<Size>{{0, 1}, {500, 0}, {20, 0}, {0, 1.5}, {0, 0.5}, {0, 0.25}, {0, 2}});
  CHECK(r.texts("faces") == std::vector<std::string>{"oak", "birch", "oak"});
  CHECK(r.vec3("at") == Vec3{1, 50.8, -3});
  CHECK(r.table("place").number("gap") == 10.0);
  REQUIRE(r.tables("boxes").size() == 2);
  CHECK(r.tables("boxes")[0].first == "1");
  CHECK(r.tables("boxes")[0].second.number("twice") == 20.0);
  CHECK(r.tables("boxes")[1].second.number("twice") == 3.0);
  REQUIRE(r.tables("columns").size() == 2);
  CHECK(r.tables("columns")[0].first == "second");  // file order
  CHECK(r.tables("columns")[1].second.number("width") == Approx(600.0));
}

TEST_CASE("a record knows what was written and what is a default", "[spec][record]") {
  const Record r = thing("width = 3\nside = \"left\"");
  CHECK(r.given("width"));
  CHECK(r.given("side"));
  CHECK(r.has("depth"));
  CHECK_FALSE(r.given("depth"));
  CHECK(r.number("depth") == 18.0);
  CHECK_FALSE(r.flag("mirrored"));
  CHECK_FALSE(r.has("load"));
  CHECK(r.number_if("load") == std::nullopt);
  CHECK(r.number_if("width") == 3.0);
  CHECK(r.text_or("title", "none") == "none");
  CHECK(r.text_or("side", "none") == "left");
  CHECK_FALSE(r.has("place"));
  CHECK(r.tables("columns").empty());
  CHECK(r.place("width") == Place{"t.toml", 2, 9, "3"});
  CHECK(r.place("depth").line == 1);
  CHECK(r.place() == Place{"t.toml", 1, 1, "[thing]"});
}

TEST_CASE("a single value can stand for a list of one", "[spec][record]") {
  const Record r = thing("levels = \"1 in\"\nbays = \"2 shares\"\nfaces = \"oak\"");
  CHECK(r.numbers("levels") == std::vector<double>{25.4});
  CHECK(r.sizes("bays") == std::vector<Size>{{0, 2}});
  CHECK(r.texts("faces") == std::vector<std::string>{"oak"});
}

TEST_CASE("limits hold up to their edge and not beyond", "[spec][record]") {
  struct Row {
    std::string line;
    bool good;
  };
  const auto row = GENERATE(values<Row>({
      {"width = 0.001", true},
      {"width = 0", false},
      {"width = 3000", true},
      {"width = \"3 m\"", true},
      {"width = \"3000 mm / 79 * 79\"", true},
      {"width = 3000.001", false},
      {"depth = 10", true},
      {"depth = 9.999", false},
      {"doors = 0", true},
      {"doors = 8", true},
      {"doors = 9", false},
      {"doors = -1", false},
      {"doors = 3.0", true},
      {"doors = 3.5", false},
      {"screws = 1000000", true},
      {"screws = 1000001", false},
      {"screws = 9223372036854775807", false},
      {"levels = [1, 2, 3]", true},
      {"levels = [1, 2, 3, 4]", false},
      {"bays = [\"1 share\"]", true},
      {"bays = [0]", false},
      {"bays = [\"0 shares\"]", false},
      {"bays = [\"-1 share\"]", false},
      {"bays = [\"share\"]", false},
      {"bays = [\"1/0 share\"]", false},
      {"bays = [\"1 kg\"]", false},
      {"at = [1, 2, 3]", true},
      {"at = [1, 2, 3, 4]", false},
  }));
  CAPTURE(row.line);
  const Findings faults = faults_of(load("[thing]\n" + row.line));
  CAPTURE(words(faults));
  CHECK(faults.empty() == row.good);
}

TEST_CASE("shares divide what the fixed sizes leave", "[spec][record]") {
  const std::vector<Size> bays = {{0, 1}, {500, 0}, {0, 2}};
  CHECK(share_out(bays, 1400) == std::vector<double>{300, 500, 600});
  CHECK(share_out({{0, 0.5}, {0, 0.5}}, 90) == std::vector<double>{45, 45});
  CHECK(share_out({{100, 0}, {200, 0}}, 1000) == std::vector<double>{100, 200});
  CHECK(share_out({{100, 0}, {200, 0}}, 300) == std::vector<double>{100, 200});
  CHECK(share_out({{100, 0}, {200, 0}}, 299) == std::nullopt);
  CHECK(share_out(bays, 500) == std::nullopt);
  CHECK(share_out(bays, 400) == std::nullopt);
  CHECK(share_out({}, 100) == std::vector<double>{});
  CHECK(share_out({{0.1, 0}, {0.2, 0}}, 0.3).has_value());  // 0.1 + 0.2 > 0.3 in binary
}

TEST_CASE("shares add up to the whole for any sizes", "[spec][record]") {
  const int seed = GENERATE(range(0, 50));
  std::vector<Size> sizes;
  unsigned state = 12345U + static_cast<unsigned>(seed);
  const auto next = [&] {
    state = state * 1664525U + 1013904223U;
    return static_cast<double>(state >> 16U) / 65536.0;
  };
  for (int i = 0; i < 10; ++i)
    sizes.push_back(next() < 0.5 ? Size{100 * next(), 0} : Size{0, 0.1 + next()});
  sizes.push_back({0, 1});
  const auto lengths = share_out(sizes, 2000);
  REQUIRE(lengths);
  double sum = 0;
  for (std::size_t i = 0; i < sizes.size(); ++i) {
    sum += (*lengths)[i];
    if (sizes[i].share == 0) CHECK((*lengths)[i] == sizes[i].mm);
    CHECK((*lengths)[i] / std::max(sizes[i].share, 1e-9) > 0);
  }
  CHECK(sum == Approx(2000).epsilon(1e-14));
}

TEST_CASE("a field is described in one line", "[spec][schema]") {
  const Schema& schema = *thing_schema();
  const auto line = [&](const char* field) { return describe(*schema.find(field)); };
  CHECK(line("width") == "length in mm, more than 0 mm, at most 3000 mm");
  CHECK(line("depth") == "length in mm, at least 10 mm, default 18 mm");
  CHECK(line("tilt") == "angle in deg, at most 180 deg");
  CHECK(line("density") == "density in kg/m3");
  CHECK(line("ratio") == "plain number");
  CHECK(line("doors") == "whole number, at most 8");
  CHECK(line("mirrored") == "true or false, default false");
  CHECK(line("side") == "one of left, right, rear, default left");
  CHECK(line("profile") == "name of a profile");
  CHECK(line("levels") == "list: length in mm, 1 to 3 items");
  CHECK(line("bays") == "list: length in mm, or \"1 share\" of what is left, more than 0 mm");
  CHECK(line("faces") == "list: each one of oak, birch");
  CHECK(line("at") == "list: length in mm, 3 items");
  CHECK(line("place") == "table");
  CHECK(line("columns") == "table of named tables");
  CHECK(line("boxes") == "list of tables");
  CHECK(schema.find("no_such_field") == nullptr);
  const Field one = sizes_field("width").items(1, 1);
  CHECK(describe(one) == "length in mm, or \"1 share\" of what is left, more than 0 mm");
  const Field item = reference_field("item", "equipment");
  CHECK(describe(item) == "name of an equipment");
}

TEST_CASE("every default of a schema passes its own check", "[spec][schema]") {
  const auto document = load("x = 1");
  for (const Field& field : thing_schema()->fields) {
    if (field.fallback.empty()) continue;
    CAPTURE(field.name);
    Evaluator evaluator(document.value, {});
    evaluator.declare("t", std::make_shared<const Schema>(Schema{"t", "", {field}}));
    const auto record = evaluator.record("t");
    REQUIRE(record);
    CHECK(record->has(field.name));
  }
}
