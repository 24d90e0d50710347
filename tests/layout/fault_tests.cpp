#include "kind_samples.hpp"
#include "small_project.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

/// One rule broken once: what is said, word for word, and how to mend it.
struct Row {
  const char* code;
  std::string text;
  const char* says;  ///< null: another test reads it
  const char* mend;
  std::vector<std::string> overrides = {};
};

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const auto at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

const char* kPlace = "place = { rear = \"100 mm\", between = \"walls\", on = \"floor\" }";

std::string placed(const std::string& place) {
  return replaced(kPlainRack, kPlace, "place = { " + place + " }");
}

std::string wide(const std::string& expression) {
  return replaced(kPlainRack, "width = \"1000 mm\"", "width = \"" + expression + "\"");
}

std::string repeated(const std::string& repeat, const std::string& more = {}) {
  return std::string(kPlainRack) + "repeat = { " + repeat + " }\n" + more;
}

/// A small rack named `name`, below the plain one.
std::string another(const std::string& name, const std::string& place) {
  return "[module." + name +
         "]\nkind = \"rack\"\nfaces = \"rear\"\nprofile = \"slotted_40\"\nbracket = "
         "\"bracket_40\"\nwidth = 300\ndepth = 300\nheight = 300\nlevels = [0]\nplace = { " +
         place + " }\n";
}

std::vector<Row> rows() {
  return {
      {"layout.apart_alone", placed("rear = 100, middle = 0, apart = 10"),
       "module rack: apart says how far from a module, and no module is named",
       "name one with behind, ahead_of, left_of or right_of, or use gap for walls"},
      {"layout.no_length",
       replaced(placed("rear = 900, front = 800, middle = 0"), "depth = \"600 mm\"\n", ""),
       "module rack: nothing is left between rear, at 900 mm, and front, at 800 mm",
       "exchange them, or give one of them and a size"},
      {"layout.two_places", placed("rear = 900, centre = 800, middle = 0"),
       "module rack: rear (line 19) and centre (line 19) say the same thing twice",
       "keep one of rear, ahead_of, front, behind, centre"},
      {"layout.two_places", placed("rear = 900, middle = 0, against = \"left wall\""),
       "module rack: middle (line 19) and against (line 19) say the same thing twice",
       "keep one of right, left_of, left, right_of, middle, against, between"},
      {"layout.no_place", placed("middle = 0"), "module rack: nothing says where it stands",
       "in its place table, give one of rear, ahead_of, front, behind, centre"},
      {"layout.unknown_module",
       placed("behind = \"galey\", middle = 0") + another("other", "rear = 0, middle = 0"),
       "module rack: behind names 'galey', which is no module", "use one of other"},
      {"layout.unknown_module", placed("rear = 0, middle = 0, on = \"galey\""),
       "module rack: on names 'galey', which is no module", "use one of floor"},
      {"layout.unknown_gap_target",
       std::string(kPlainRack) + "gaps.air = { to = \"galey\", at_least = 20 }\n" +
           another("galley", "rear = 1500, middle = 0"),
       "module rack: gap air is kept to 'galey', which is no module, no part and no body of the "
       "van; modules are: galley, vehicle",
       "write galley"},
      {"layout.unknown_gap_target",
       std::string(kPlainRack) + "gaps.air = { to = \"galley/post.frnt_left\", at_least = 20 }\n" +
           another("galley", "rear = 1500, middle = 0"),
       "module rack: gap air is kept to 'galley/post.frnt_left', which is no module, no part and "
       "no body of the van; modules are: galley, vehicle",
       "write galley/post.front_left"},
      {"layout.unknown_gap_target",
       std::string(kPlainRack) + "gaps.air = { to = \"vehicle/wall.lef\", at_least = 20 }\n",
       "module rack: gap air is kept to 'vehicle/wall.lef', which is no module, no part and no "
       "body of the van; modules are: vehicle",
       "write vehicle/wall.left"},
      {"layout.gap_to_itself", std::string(kPlainRack) + "gaps.air = { to = \"rack\", at_least = 20 }\n",
       "module rack: gap air is kept to the module itself",
       "name another module, a part of one, or \"vehicle\""},
      {"input.unknown_key", replaced(kPlainRack, "height = ", "heigth = "), nullptr,
       "write height"},
      {"expression.cycle", placed("behind = \"rack\", middle = 0"),
       "rack (its place) -> rack (its place) needs itself to be computed (written at "
       "/test/project.toml:19)",
       "give one of them a value, or a place, that does not need the others"},
      {"expression.dimension", std::string(kPlainRack) + "[bracket.bracket_40]\nwidth = \"1 kg\"\n",
       nullptr, "give it values of kind length, with their units, such as \"40 mm\""},
      {"input.base_of_other_kind",
       std::string(kPlainRack) + "[module.bed]\nkind = \"bunk\"\nbased_on = \"rack\"\n" +
           another("other", "ahead_of = \"bed\", middle = 0"),
       "module.bed is a bunk, and what it is based on, module.rack, is a rack: their fields differ",
       "base it on a module of kind bunk, or take based_on out"},
      {"input.set_unknown",
       kPlainRack,
       "--set module.rak: nothing in these files is called module.rak",
       "write rack",
       {"module.rak.width=300mm"}},
      {"input.set_unknown",
       kPlainRack,
       "--set bracket.braket_40: nothing in these files is called bracket.braket_40",
       "write bracket_40",
       {"bracket.braket_40.width=30mm"}},
      {"input.unknown_key", replaced(kPlainRack, "kind = ", "knid = "),
       "module.rack has no field knid; it can have: kind, and what belongs to that kind",
       "write kind"},
      {"input.unknown_table",
       replaced(kPlainRack, "module.rack", "modul.rack") +
           another("other", "ahead_of = \"rack\", right = \"rack.right\"") +
           "gaps.air = { to = \"rack\", at_least = 20 }\n",
       nullptr, "write module"},
      {"input.unknown_table",
       replaced(kPlainRack, "\"bracket_40\"", "\"bent\"") + "[brackt.bent]\nwidth = 30\n", nullptr,
       "write bracket"},
      {"input.value_and_table", std::string(kPlainRack) + "[values]\nrack = 3\n",
       "rack is a value or an option here, and a table at /test/project.toml:7",
       "give one of them another name"},
      {"layout.stock_not_given", wide("sheet.birch_12.flex_radius"),
       "sheet.birch_12 does not say its flex_radius",
       "write flex_radius into [sheet.birch_12], or a number here"},
      {"layout.no_stock_number", wide("sheet.birch_12"), nullptr, "write one of these"},
      {"layout.no_index", wide("1 m + self.index * 1 mm"),
       "module rack is not repeated, so it has no index: that counts the copies of a module",
       "give the module a repeat table, or write a number"},
      {"layout.reserved_module", replaced(kPlainRack, "module.rack", "module.vehicle"), nullptr,
       "give it another name, such as vehicle_1"},
      {"layout.reserved_module",
       replaced(kPlainRack, "module.rack", "module.floor") +
           another("other", "rear = 1500, middle = 0, on = \"floor\""),
       "no module can be called floor: expressions and places mean something else by it",
       "give it another name, such as floor_1"},
      {"layout.wrong_arguments", wide("clear_width(0 mm)"), "clear_width was given 1 value",
       "ask clear_width(x from, x to, z from, z to); all are lengths"},
      {"layout.wrong_arguments", wide("wall_left(0 mm, 3)"),
       "wall_left was given value 2 as a plain number", "ask wall_left(x, z); all are lengths"},
      {"layout.wrong_arguments", wide("nearest_joist(2 kg)"),
       "nearest_joist was given value 1 as mass",
       "ask nearest_joist(x) or (x, y); all are lengths"},
      {"layout.no_answer", wide("wall_left(9 m, 0 mm)"),
       "wall_left: the place asked about lies outside the surveyed room, which runs from x = 0 mm "
       "to x = 3000 mm",
       "ask about a place inside it"},
      {"layout.none_there", wide("next_rib_left(2.9 m)"),
       "next_rib_left: there is no rib on that side of the place asked about",
       "ask about another place, or add the rib to the vehicle file"},
      {"layout.currency",
       kPlainRack,
       "currency 'euro' is no code of ISO 4217, such as EUR",
       "write the three capitals of your own money",
       {"project.currency=euro"}},
      {"layout.repeat_pitch", repeated("count = 2, pitch = 0, along = \"x\""),
       "module rack_1: all its copies would stand in one place",
       "write the distance from one to the next as the pitch"},
      {"layout.repeat_between_walls", repeated("count = 2, pitch = 300, along = \"y\""),
       "module rack_1 stands in the middle between the walls, and is repeated across the van",
       "say where the first one stands, such as against = \"right wall\""},
      {"layout.repeat_clash",
       repeated("count = 2, pitch = 700, along = \"x\"", another("rack_2", "rear = 0, middle = 0")),
       "module rack: one of its copies would be called rack_2, and that is a module of its own "
       "(/test/project.toml:21)",
       "rename one of the two"},
      {"layout.repeat_count",
       repeated("count = \"vehicle.rear_sill / 5 mm\", pitch = 700, along = \"x\""),
       "module rack: how often it is repeated must be known before anything is placed",
       "use a whole number, or one from values and options"},
      {"layout.repeated_name",
       repeated("count = 2, pitch = 700, along = \"x\"",
                another("other", "rear = \"rack.front\", middle = 0")),
       "module rack is repeated, 2 times, and the name means all of them",
       "say which: rack_1, rack_2 and so on"},
      {"layout.repeated_name",
       repeated("count = 2, pitch = 700, along = \"x\"",
                another("other", "ahead_of = \"rack\", middle = 0")),
       "module rack is repeated, 2 times, and the name means all of them",
       "say which: rack_1, rack_2 and so on"},
  };
}

}  // namespace

TEST_CASE("each rule of the layout says what is wrong and how to mend it", "[layout][findings]") {
  for (const Row& row : rows()) {
    CAPTURE(row.code, row.text);
    const auto built = lay_out_text(row.text, row.overrides);
    INFO(words(built.findings));
    const auto found = std::ranges::find(built.findings, row.code, &Finding::code);
    REQUIRE(found != built.findings.end());
    if (row.says != nullptr) CHECK(message_text(*found, LengthStyle::millimetres) == row.says);
    CHECK(advice_text(*found, LengthStyle::millimetres) == row.mend);
    REQUIRE(found->place);
    CHECK_FALSE(found->place->file.empty());
    // The root cause alone: nothing that only follows from it.
    CHECK(std::ranges::count_if(
              built.findings, [](const Finding& f) { return f.severity == Severity::error; }) == 1);
  }
}

TEST_CASE("a module may be based on one of its own kind that is repeated", "[layout][findings]") {
  const std::string text = repeated("count = 2, pitch = 700, along = \"x\"") +
                           "[module.other]\nkind = \"rack\"\nbased_on = \"rack\"\n" +
                           "repeat = { count = 1 }\nplace.rear = \"2100 mm\"\n";
  const auto built = lay_out_text(text);
  INFO(words(built.findings));
  CHECK_FALSE(has_errors(built.findings));
  const auto wrong =
      lay_out_text(replaced(text, "kind = \"rack\"\nbased", "kind = \"bunk\"\nbased"));
  INFO(words(wrong.findings));
  CHECK(has_code(wrong.findings, "input.base_of_other_kind"));
  CHECK(std::ranges::count(wrong.findings, Severity::error, &Finding::severity) == 1);
}

TEST_CASE("a file of another kind is told as that", "[layout][findings]") {
  const std::string stock = std::string(RIBBAY_SOURCE_DIR) + "/params/stock/materials.toml";
  const std::string van = std::string(RIBBAY_SOURCE_DIR) + "/params/vehicles/long_mid.toml";
  for (const auto& [file, code] :
       {std::pair{stock, "layout.is_catalogue"}, std::pair{van, "layout.is_vehicle"}}) {
    const auto read = read_inputs(file);
    INFO(words(read.findings));
    CHECK_FALSE(read.value);
    REQUIRE(read.findings.size() == 1);
    CHECK(read.findings[0].code == code);
    CHECK(read.findings[0].place->file == file);
  }
  const auto built = lay_out_text(kPlainRack, {}, "[project]\nname = \"x\"\n[module.y]\n");
  INFO(words(built.findings));
  REQUIRE(built.findings.size() == 1);
  CHECK(built.findings[0].code == "vehicle.is_project");
}

TEST_CASE("gaps may be kept to what exists or is left out", "[layout][findings]") {
  const std::string to = GENERATE("galley", "galley/post.front_left", "vehicle", "vehicle/floor",
                                  "vehicle/wall.left", "spare", "spare/post.front_left");
  const std::string text = std::string(kPlainRack) + "gaps.air = { to = \"" + to +
                           "\", at_least = 20 }\n" + another("galley", "rear = 1500, middle = 0") +
                           another("spare", "rear = 1500, middle = 0") + "when = false\n";
  const auto built = lay_out_text(text);
  INFO(to << words(built.findings));
  CHECK_FALSE(has_errors(built.findings));
}

TEST_CASE("repetition has a limit over the whole project", "[layout][findings][repeat]") {
  std::string text;
  for (int i = 1; i <= 11; ++i) {
    std::string name = "m";
    name += std::to_string(i);
    const std::string module = another(name, "rear = 0, middle = 0");
    text += replaced(module, "depth = 300", "depth = 100");  // too shallow: nothing is made of it
    text += "repeat = { count = 100, pitch = 1, along = \"x\" }\n";
  }
  const auto built = lay_out_text(text);
  const auto found = std::ranges::find(built.findings, "layout.too_many_copies", &Finding::code);
  REQUIRE(found != built.findings.end());
  CHECK(message_text(*found, LengthStyle::millimetres) ==
        "module m11: repetition makes more than 1000 modules or 200000 values in this project");
  CHECK(advice_text(*found, LengthStyle::millimetres) == "ask for fewer copies");
  CHECK(has_code(
      lay_out_text(kPlainRack, {"module.rack.repeat={count=101, pitch=1, along=\"x\"}"}).findings,
      "input.too_big"));
}

TEST_CASE("an unknown opening, name or question suggests the nearest", "[layout][findings]") {
  const std::string van = std::string(kStraightVan) +
                          "[opening.sliding_door]\nkind = \"sliding\"\nside = \"right\"\nfrom = "
                          "1000\nto = 2000\nbottom = 0\ntop = 1500\n";
  struct Wrong {
    const char* expression;
    const char* nearest;
  };
  const auto row = GENERATE(values<Wrong>({
      {"distance_to.sliding_dor(0 mm, 1 mm, 0 mm, 1 mm)", "distance_to.sliding_door"},
      {"next_rib_lef(0 mm)", "next_rib_left"},
      {"vehicle.rear_sil", "vehicle.rear_sill"},
      {"vehicle.joist.cross_11.at", "vehicle.joist.cross_1.at"},
      {"sheet.brich_12.thickness", "sheet.birch_12.thickness"},
      {"sheet.birch_12.thicknes", "sheet.birch_12.thickness"},
  }));
  CAPTURE(row.expression);
  const auto built = lay_out_text(wide(row.expression), {}, van);
  INFO(words(built.findings));
  REQUIRE(built.findings.size() >= 1);
  REQUIRE(built.findings.front().argument("nearest") != nullptr);
  CHECK(std::get<std::string>(built.findings.front().argument("nearest")->value) == row.nearest);
}

TEST_CASE("a vehicle that cannot be read hides no other mistake", "[layout][findings]") {
  const std::string text =
      replaced(wide("vehicle.floor_width - clear_width(1 mm, 2 mm, 0 mm, 1 mm)"), "\"slotted_40\"",
               "\"slotted_41\"");
  const auto broken = lay_out_text(text, {}, "format = 1\n[vehicle\n");
  INFO(words(broken.findings));
  CHECK_FALSE(broken.value);
  CHECK(has_code(broken.findings, "input.unknown_reference"));
  // Names of the van that is not known, and places in it, are no faults of their own.
  CHECK(broken.findings.size() == 2);
  const auto empty = lay_out_text(text, {}, "format = 1\n[vehicle]\ntitle = \"x\"\n");
  INFO(words(empty.findings));
  CHECK_FALSE(empty.value);
  CHECK(has_code(empty.findings, "input.unknown_reference"));
}

TEST_CASE("what depends on a module that failed is not a fault of its own", "[layout][findings]") {
  const std::string broken = replaced(
      std::string(kPlainRack) + another("other", "rear = \"rack.front\", left_of = \"rack\""),
      "kind = \"rack\"", "kind = \"rak\"");
  const auto built = lay_out_text(broken);
  INFO(words(built.findings));
  CHECK(built.findings.size() == 1);
  CHECK(has_code(built.findings, "layout.unknown_kind"));

  // The rack fails before it has made what it holds: its port is no unknown name.
  const std::string no_port = replaced(kLopsidedRack, "bays = [\"1 share\", \"400 mm\"]",
                                       "bays = [\"500 mm\", \"4000 mm\"]") +
                              another("other", "rear = \"rack.battery.front\", middle = 0");
  const auto port = lay_out_text(no_port);
  INFO(words(port.findings));
  CHECK(has_code(port.findings, "rack.bays"));
  CHECK_FALSE(has_code(port.findings, "layout.unknown_port"));
}

TEST_CASE("a field that takes one kind of fastener, sheet, fitting or finish refuses the others", "[layout][faults]") {
  const auto findings = [](const std::string& file, const std::string& set) {
    const auto inputs = read_inputs(RIBBAY_SOURCE_DIR "/params/examples/" + file, {set});
    REQUIRE(inputs.value);
    return lay_out(*inputs.value).findings;
  };
  const auto refused = [&](const std::string& file, const std::string& set, const std::string& kind) {
    const Findings found = findings(file, set);
    CAPTURE(file, set);
    INFO(words(found));
    REQUIRE(found.size() >= 1);
    REQUIRE(found.front().code == "input.unknown_reference");
    CHECK(std::get<std::string>(found.front().argument("kind")->value) == kind);
  };
  refused("galley.toml", "module.galley.screw=m8_16", "wood screw");
  refused("bench.toml", "module.bench.floor_bolt=wood_5x60", "machine bolt");
  refused("locker.toml", "module.locker.edge_band=vinyl", "edge band");
  refused("locker.toml", "module.locker.stay=push_latch", "stay");
  refused("locker.toml", "module.locker.latch=lid_stay", "latch or magnet");
  refused("galley.toml", "module.galley.shelf_pin=m8_16", "shelf pin");
  refused("galley.toml", "module.galley.sheet=insulation_20", "load-bearing sheet");
  refused("floor.toml", "module.raised_floor.insulation=birch_18", "insulation board");
  CHECK_FALSE(has_code(findings("galley.toml", "module.galley.screw=wood_4x50"),
                       "input.unknown_reference"));
}
