#include "small_project.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;
using namespace ribbay::testing;

TEST_CASE("a module stands where its relations put it", "[layout][placement]") {
  struct Row {
    const char* name;
    const char* faces;
    const char* place;
    Vec3 lo;
    Vec3 hi;
  };
  const auto row = GENERATE(values<Row>({
      {"between the walls, in the middle",
       "rear",
       "rear = 100, between = \"walls\"",
       {100, -500, 0},
       {700, 500, 900}},
      // Ribs leave 1540; the sizes of a module facing right lie the other way round.
      {"against the right wall, facing left",
       "left",
       "rear = 100, against = \"right wall\", gap = 5",
       {100, -765, 0},
       {1100, -165, 900}},
      {"against the left wall, facing right",
       "right",
       "rear = 100, against = \"left wall\"",
       {100, 170, 0},
       {1100, 770, 900}},
      {"front and middle given, standing at a height",
       "rear",
       "front = 1500, middle = 100, bottom = 50",
       {900, -400, 50},
       {1500, 600, 950}},
      {"right side and top given",
       "rear",
       "rear = 0, right = -300, top = 1000",
       {0, -300, 100},
       {600, 700, 1000}},
  }));
  CAPTURE(row.name);
  std::string text = kPlainRack;
  text.replace(text.find("faces = \"rear\""), 14, std::string("faces = \"") + row.faces + "\"");
  text.replace(text.find("place = "), std::string::npos,
               std::string("place = { ") + row.place + " }\n");
  const auto built = lay_out_text(text);
  INFO(words(built.findings));
  REQUIRE(built.value);
  REQUIRE(built.value->module("rack") != nullptr);
  const Box box = built.value->module("rack")->envelope;
  CHECK(length(box.lo - row.lo) < 1e-9);
  CHECK(length(box.hi - row.hi) < 1e-9);
}

TEST_CASE("modules refer to each other in any order of the file", "[layout][placement]") {
  const std::string second = R"(
[module.other]
kind = "rack"
faces = "rear"
profile = "slotted_40"
bracket = "bracket_40"
width = "rack.width / 2"
depth = "self.width"
height = "500 mm"
levels = [0, 400]
place = { rear = "rack.front + 20 mm", middle = 0, on = "floor" }
)";
  const auto a = lay_out_text(std::string(kPlainRack) + second);
  const auto b = lay_out_text(second + std::string(kPlainRack));
  INFO(words(a.findings));
  REQUIRE(a.value);
  REQUIRE(b.value);
  CHECK(a.value->module("other")->envelope == b.value->module("other")->envelope);
  CHECK(a.value->module("other")->envelope.lo.x == Approx(720));
  CHECK(a.value->module("other")->envelope.size().x == Approx(500));
  REQUIRE(a.value->parts.size() == b.value->parts.size());
  for (std::size_t i = 0; i < a.value->parts.size(); ++i)
    CHECK(a.value->parts[i].id == b.value->parts[i].id);
}

TEST_CASE("one module stands on another", "[layout][placement]") {
  const std::string second = R"(
[module.upper]
kind = "rack"
faces = "rear"
profile = "slotted_40"
bracket = "bracket_40"
width = "1000 mm"
depth = "600 mm"
height = "300 mm"
levels = [0]
place = { rear = "rack.rear", middle = 0, on = "rack" }
)";
  const auto built = lay_out_text(std::string(kPlainRack) + second);
  REQUIRE(built.value);
  CHECK(built.value->module("upper")->envelope.lo.z == Approx(900));
}

TEST_CASE("questions to the van answer in expressions", "[layout][questions]") {
  struct Row {
    const char* expression;
    double expected;
  };
  const auto row = GENERATE(values<Row>({
      {"clear_width(100 mm, 700 mm, 0 mm, 900 mm)", 1540},
      {"clear_width(300 mm, 400 mm, 0 mm, 900 mm)", 1600},
      {"clear_left(300 mm, 400 mm, 0 mm, 900 mm) + 200 mm", 1000},
      {"200 mm - clear_right(300 mm, 400 mm, 0 mm, 900 mm)", 1000},
      {"wall_left(1000 mm, 500 mm)", 800},
      {"200 mm - wall_right(1000 mm, 500 mm)", 1000},
      {"nearest_joist(700 mm)", 750},
      {"clear_height(0 mm, 900 mm, -100 mm, 100 mm) - 900 mm", 990},
  }));
  CAPTURE(row.expression);
  const auto built = lay_out_text(kPlainRack, {std::string("module.rack.width=") + row.expression});
  INFO(words(built.findings));
  REQUIRE(built.value);
  REQUIRE(built.value->module("rack") != nullptr);
  CHECK(built.value->module("rack")->envelope.size().y == Approx(row.expected).margin(10.1));
}

TEST_CASE("every mistake of a project is reported at once, each at its place",
          "[layout][findings]") {
  struct Row {
    const char* name;
    std::string text;
    const char* code;
  };
  const std::string rack = kPlainRack;
  const auto without = [&](const std::string& line) {
    std::string text = rack;
    const auto at = text.find(line);
    text.erase(at, text.find('\n', at) - at + 1);
    return text;
  };
  const auto row = GENERATE_COPY(values<Row>({
      {"no kind", without("kind"), "layout.no_kind"},
      {"a kind that does not exist", "[module.x]\nkind = \"rak\"\n", "layout.unknown_kind"},
      {"no place", without("place"), "layout.no_place"},
      {"no height", without("height"), "layout.needs_size"},
      {"two x", without("place") + "place = { rear = 0, front = 900, middle = 0 }\n",
       "layout.two_places"},
      {"stands on nothing", without("place") + "place = { rear = 0, middle = 0, on = \"rak\" }\n",
       "layout.unknown_module"},
      {"leaves the survey", without("place") + "place = { rear = 2800, between = \"walls\" }\n",
       "layout.outside_survey"},
      {"asks outside the survey",
       without("width") + "width = \"clear_width(0 mm, 9 m, 0 mm, 1 m)\"\n", "layout.no_answer"},
      {"asks with too few", without("width") + "width = \"clear_width(0 mm)\"\n",
       "layout.wrong_arguments"},
      {"a port that is not there", without("width") + "width = \"rack.fridge.left\"\n",
       "expression.cycle"},
  }));
  CAPTURE(row.name);
  const auto built = lay_out_text(row.text);
  INFO(words(built.findings));
  const auto found = std::ranges::find(built.findings, row.code, &Finding::code);
  if (std::string_view(row.name) == "module is no table")
    return;  // inside [project] there; tested below
  REQUIRE(found != built.findings.end());
  CHECK(found->place);
  CHECK(message_text(*found, LengthStyle::millimetres).find('?') == std::string::npos);
}

TEST_CASE("a project's name must be able to name a folder", "[layout][findings]") {
  CHECK(has_code(lay_out_text(kPlainRack, {"project.name=\"../up\""}).findings,
                 "layout.project_name"));
}

TEST_CASE("module must hold tables", "[layout][findings]") {
  CHECK(has_code(lay_out_text("", {"module=3"}).findings, "layout.modules_not_a_table"));
}

TEST_CASE("a port that is not there names those that are", "[layout][findings]") {
  const std::string second = std::string(kPlainRack) + R"(
[module.rack.holds.battery]
item = "battery_small"
bay = 1
level = 2
[module.other]
kind = "rack"
faces = "rear"
profile = "slotted_40"
bracket = "bracket_40"
width = 500
depth = 500
height = 500
levels = [0]
place = { rear = "rack.batery.front", middle = 0 }
)";
  const auto built = lay_out_text(second);
  INFO(words(built.findings));
  const auto found = std::ranges::find(built.findings, "layout.unknown_port", &Finding::code);
  REQUIRE(found != built.findings.end());
  CHECK(advice_text(*found, LengthStyle::millimetres).find("battery_terminals") !=
        std::string::npos);
}

TEST_CASE("parts that are made alike share one mark", "[layout][types]") {
  const auto built = lay_out_text(kPlainRack);
  const Layout& layout = *built.value;
  const auto types = part_types(layout);
  std::size_t made = 0;
  for (const PartType& type : types) {
    made += type.parts.size();
    for (const std::size_t i : type.parts)
      CHECK(layout.parts[i].shape == layout.parts[type.parts[0]].shape);
  }
  std::size_t members = 0;
  for (const Part& part : layout.parts) members += part.kind == PartKind::member ? 1 : 0;
  CHECK(made == members);
  // Posts, rails of either bay, side rails.
  CHECK(types.size() == 4);
}

TEST_CASE("the mass of a rack is that of its members and what is bought", "[layout][mass]") {
  const auto built = lay_out_text(kPlainRack);
  const Layout& layout = *built.value;
  double by_hand = 0;
  const Profile& profile = layout.catalogue->profiles.at("slotted_40");
  const double per_mm =
      area(profile.section) * 2700e-9;  // aluminium, 2700 kg/m3 (EN 1999-1-1, from memory)
  by_hand += per_mm * (6 * 900 + 3 * 2 * (480 + 400) + 3 * 3 * 520);
  double members = 0;
  for (const Part& part : layout.parts) members += part.kind == PartKind::member ? part.mass_kg : 0;
  CHECK(members == Approx(by_hand).epsilon(1e-9));
  CHECK(mass_summary(layout).mass_kg > members);
}

TEST_CASE("a vehicle file that is not there is reported where it is named", "[layout][findings]") {
  const ReadFile read = [](const std::string& path) -> Result<std::string> {
    if (path == "/test/project.toml") {
      return std::string("format = 1\n[project]\nname = \"test\"\nvehicle = \"nothing.toml\"\n");
    }
    return read_file(path);
  };
  const auto inputs = read_inputs("/test/project.toml", {}, read);
  CHECK_FALSE(inputs.value);
  REQUIRE(inputs.findings.size() == 1);
  CHECK(inputs.findings[0].code == "input.no_file");
  CHECK(inputs.findings[0].place->file == "/test/project.toml");
  CHECK(inputs.findings[0].place->line == 4);
  CHECK(inputs.findings[0].place->column == 11);
}

TEST_CASE("the floor that a door asks for is kept clear", "[layout][zones]") {
  const std::string van = std::string(kStraightVan) + R"(
[opening.side]
kind = "sliding"
side = "left"
from = "2000 mm"
to = "2900 mm"
top = "1600 mm"
leaf = { swing = "slides", clear_way = "450 mm" }
[opening.rear]
kind = "rear"
from = "-700 mm"
to = "700 mm"
top = "1600 mm"
)";
  const auto built = lay_out_text(kPlainRack, {}, van);
  REQUIRE(built.value);
  // The side door alone asks for some: from the wall at y = 800 in.
  const auto& zones = built.value->zones;
  const auto is_way = [](const Zone& z) { return z.id.starts_with("vehicle/way."); };
  REQUIRE(std::ranges::count_if(zones, is_way) == 1);
  const Zone& way = *std::ranges::find_if(zones, is_way);
  CHECK(way.id == "vehicle/way.side");
  const Box box = bounds(way.shape, way.frame);
  CHECK(box.lo.x == Approx(2000));
  CHECK(box.hi.x == Approx(2900));
  CHECK(box.lo.y == Approx(350));
  CHECK(box.hi.y >= 800);
  CHECK(box.lo.z == Approx(0));
  CHECK(box.hi.z == Approx(1600));
}
