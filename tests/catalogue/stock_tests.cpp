#include "sample_catalogue.hpp"

#include <cmath>
#include <filesystem>
#include <numbers>
#include <set>

using namespace ribbay;
using namespace ribbay::tests;

namespace {

template <class Items>
void check_provenance(const Items& items) {
  for (const auto& [key, item] : items) {
    CAPTURE(key);
    CHECK(item.key == key);
    CHECK_FALSE(item.title.empty());
    CHECK((item.provenance.assumption || !item.provenance.source.empty()));
    if (!item.provenance.assumption) CHECK_FALSE(item.provenance.date.empty());
  }
}

double metre_mass(const Catalogue& catalogue, const std::string& key) {
  const auto profile = catalogue.profiles.find(key);
  REQUIRE(profile != catalogue.profiles.end());
  return area(profile->second.section) * 1000.0 *
         catalogue.materials.at(profile->second.material).density;
}

}  // namespace

TEST_CASE("every stock and equipment file reads without a finding", "[catalogue][files]") {
  int read = 0;
  for (const char* folder : {"stock", "equipment"}) {
    const auto path = std::filesystem::path(RIBBAY_SOURCE_DIR) / "params" / folder;
    for (const auto& file : std::filesystem::directory_iterator(path)) {
      CAPTURE(file.path().string());
      const Catalogue catalogue =
          committed(std::string(folder) + "/" + file.path().filename().string());
      check_provenance(catalogue.materials);
      check_provenance(catalogue.profiles);
      check_provenance(catalogue.sheets);
      check_provenance(catalogue.slides);
      check_provenance(catalogue.hinges);
      check_provenance(catalogue.brackets);
      check_provenance(catalogue.bolts);
      check_provenance(catalogue.nuts);
      check_provenance(catalogue.handles);
      check_provenance(catalogue.equipment);
      ++read;
    }
  }
  CHECK(read >= 5);
}

TEST_CASE("a metre of stock weighs what is published", "[catalogue][published]") {
  struct Row {
    const char* key;
    double kg;
    double within;
  };
  constexpr double kPoundPerFoot = 0.45359237 / 0.3048;  // exact by definition, kg/m
  const auto row = GENERATE(values<Row>({
      // EN 10365: printed to 0.1 kg/m.
      {"ipe_80", 6.0, 0.05},
      {"ipe_100", 8.1, 0.05},
      // EN 10219-2, cold formed: printed to 0.01 kg/m.
      {"tube_40_20_2", 1.68, 0.005},
      {"tube_40_20_3", 2.36, 0.005},
      {"tube_40_30_2", 1.99, 0.005},
      {"tube_50_30_3", 3.30, 0.005},
      {"tube_60_40_2", 2.93, 0.005},
      // Aluminum Association standard I-beams, printed to 0.001 lb/ft; the density of 0.098 lb/in3
      // reproduces
      // all rows of the table to 0.002 lb/ft.
      {"i_beam_3x1_637", 1.637 * kPoundPerFoot, 0.002 * kPoundPerFoot},
      {"i_beam_4x2_311", 2.311 * kPoundPerFoot, 0.002 * kPoundPerFoot},
      {"i_beam_4x2_793", 2.793 * kPoundPerFoot, 0.002 * kPoundPerFoot},
  }));
  CAPTURE(row.key);
  CHECK(metre_mass(committed("stock/aluminium.toml"), row.key) ==
        Approx(row.kg).margin(row.within));
}

TEST_CASE("the area of an angle is that of its table", "[catalogue][published]") {
  const Catalogue catalogue = committed("stock/aluminium.toml");
  // EN 10056-1 (from memory): 3.08 and 4.80 cm2.
  CHECK(area(catalogue.profiles.at("angle_40_4").section) == Approx(308).margin(0.5));
  CHECK(area(catalogue.profiles.at("angle_50_5").section) == Approx(480).margin(0.5));
}

TEST_CASE("birch plywood is as thick as its data sheet says", "[catalogue][published]") {
  // Published birch plywood data sheet, sanded: nominal, mean, lower and upper limit in mm, kg/m3.
  struct Row {
    const char* key;
    double nominal, mean, lower, upper, density;
  };
  const auto row = GENERATE(values<Row>({{"birch_6", 6.5, 6.4, 6.1, 6.9, 670},
                                         {"birch_9", 9, 9.2, 8.8, 9.5, 710},
                                         {"birch_12", 12, 12.0, 11.5, 12.5, 695},
                                         {"birch_15", 15, 14.9, 14.3, 15.3, 690},
                                         {"birch_18", 18, 17.7, 17.1, 18.1, 685},
                                         {"birch_21", 21, 20.5, 20.0, 20.9, 680}}));
  CAPTURE(row.key);
  const Catalogue catalogue = committed("stock/sheets.toml");
  const Sheet& sheet = catalogue.sheets.at(row.key);
  CHECK(sheet.nominal == row.nominal);
  CHECK(sheet.thickness == row.mean);
  CHECK(sheet.thinnest == row.lower);
  CHECK(sheet.thickest == row.upper);
  CHECK(sheet.grain);
  CHECK(catalogue.materials.at(sheet.material).density * 1e9 == Approx(row.density));
}

TEST_CASE("heads, drives and holes of bolts are those of the standards", "[catalogue][published]") {
  // ISO 4762 and ISO 7380-1 head diameter, head height and drive; ISO 273 medium series. mm.
  struct Row {
    const char* key;
    double thread, length, head, height, drive, hole;
  };
  const auto row = GENERATE(values<Row>({{"m5_16", 5, 16, 8.5, 5, 4, 5.5},
                                         {"m6_20", 6, 20, 10, 6, 5, 6.6},
                                         {"m8_16", 8, 16, 13, 8, 6, 9},
                                         {"m8_60", 8, 60, 13, 8, 6, 9},
                                         {"m5_8_button", 5, 8, 9.5, 2.75, 3, 5.5},
                                         {"m6_16_button", 6, 16, 10.5, 3.3, 4, 6.6},
                                         {"m8_20_button", 8, 20, 14, 4.4, 5, 9}}));
  CAPTURE(row.key);
  const Bolt bolt = committed("stock/hardware.toml").bolts.at(row.key);
  CHECK(bolt.diameter == row.thread);
  CHECK(bolt.length == row.length);
  CHECK(bolt.head_diameter == row.head);
  CHECK(bolt.head_height == row.height);
  CHECK(bolt.spanner == row.drive);
  CHECK(bolt.clearance_hole == row.hole);
}

TEST_CASE("the slotted section is what its sizes leave of a square", "[catalogue]") {
  const Catalogue catalogue = committed("stock/aluminium.toml");
  const double corners = (4.0 - std::numbers::pi) * 1.5 * 1.5;
  const double slot = 8.2 * 4.5 + (20.0 + 11.0) / 2.0 * (12.3 - 4.5);
  const double bore = std::numbers::pi / 4.0 * 6.8 * 6.8;
  const double chamber = 2.0 * 4.5 * 20.0 + (20.0 + 11.0) * (12.3 - 4.5);

  const Profile& one = catalogue.profiles.at("slotted_40");
  CHECK(area(one.section) == Approx(40.0 * 40 - corners - 4 * slot - bore));
  REQUIRE(one.core_bores.size() == 1);
  CHECK(one.core_bores[0] == Vec2{0, 0});
  REQUIRE(one.coarse);
  CHECK(*one.coarse == Region{rectangle({-20, -20}, {20, 20}), {}});
  CHECK(one.slot->pitch == 40);

  const Profile& two = catalogue.profiles.at("slotted_40_80");
  CHECK(area(two.section) == Approx(40.0 * 80 - corners - 6 * slot - 2 * bore - chamber));
  REQUIRE(two.core_bores.size() == 2);
  CHECK(two.core_bores[0] == Vec2{0, -20});
  CHECK(two.core_bores[1] == Vec2{0, 20});
  CHECK(area(*two.coarse) == Approx(3200));
}

TEST_CASE("a bracket's bolt reaches through its nut and ends above the floor of the slot",
          "[catalogue]") {
  auto document = load_document(RIBBAY_SOURCE_DIR "/params/stock/aluminium.toml");
  const Catalogue stock = read_catalogue(document.value).value;
  const Catalogue hardware = committed("stock/hardware.toml");
  struct Row {
    const char* bracket;
    const char* profile;
  };
  const auto row = GENERATE(values<Row>({{"bracket_40", "slotted_40"},
                                         {"bracket_40", "slotted_40_80"},
                                         {"foot_40", "slotted_40"},
                                         {"bracket_30", "slotted_30"},
                                         {"foot_30", "slotted_30"},
                                         {"bracket_20", "slotted_20"}}));
  CAPTURE(row.bracket, row.profile);
  const Bracket& bracket = hardware.brackets.at(row.bracket);
  const Bolt& bolt = hardware.bolts.at(bracket.bolt);
  const Nut& nut = hardware.nuts.at(bracket.nut);
  const Slot& slot = *stock.profiles.at(row.profile).slot;
  const double into_slot = bolt.length - bracket.thickness;
  CHECK(into_slot >= slot.lip + nut.height);
  CHECK(into_slot < slot.depth);
  CHECK(bolt.diameter < slot.opening);
  CHECK(nut.width > slot.opening);  // it must not pull through the lips
  // Where the nut ends the cavity has narrowed on its way to the floor.
  const double share = nut.height / (slot.depth - slot.lip);
  CHECK(nut.width <= slot.cavity_width + share * (slot.floor_width - slot.cavity_width));
}

TEST_CASE("a foot's hole meets the slot of a rail that lies on the floor", "[catalogue]") {
  const Catalogue hardware = committed("stock/hardware.toml");
  CHECK(hardware.brackets.at("foot_40").hole_from_corner == 20);
  CHECK(hardware.brackets.at("foot_30").hole_from_corner == 15);
}

TEST_CASE("equipment keeps its boxes, feet, air and ports", "[catalogue]") {
  const Catalogue catalogue = committed("equipment/equipment.toml");
  const Equipment& fridge = catalogue.equipment.at("fridge_top");
  REQUIRE(fridge.boxes.size() == 2);
  CHECK(fridge.boxes[0].name == "chest");
  CHECK(fridge.boxes[1].at == Vec3{390, 170, 25});
  CHECK(fridge.bounds() == Box{{0, 0, 0}, {475, 600, 410}});
  CHECK(fridge.feet.size() == 4);
  CHECK(fridge.air == std::map<Face, double>{{Face::back, 25}, {Face::right, 40}});
  CHECK(fridge.opens.empty());

  const Equipment& tank = catalogue.equipment.at("tank_fresh_70");
  REQUIRE(tank.ports.size() == 3);
  CHECK(tank.ports[0].name == "fill");
  CHECK(tank.ports[0].out == Face::top);
  CHECK(tank.ports[0].diameter == 40);
  // 70 litres fit into the box, and water weighs 1 kg per litre.
  const Vec3 size = tank.bounds().size();
  CHECK(size.x * size.y * size.z > 70e6);
  CHECK(tank.mass_kg > 70);
}

TEST_CASE("the catalogue knows its kinds and the keys of each", "[catalogue]") {
  const Catalogue catalogue = committed("stock/hardware.toml");
  for (const auto& [kind, schema] : catalogue_schemas()) {
    CAPTURE(kind);
    CHECK(catalogue.keys(kind).has_value());
    CHECK(schema->name == kind);
    for (const Field& field : schema->fields) {
      CAPTURE(field.name);
      CHECK_FALSE(field.meaning.empty());
    }
  }
  CHECK_FALSE(catalogue.keys("screw"));
  CHECK(catalogue.keys("slide")->front() == "heavy_600");
  CHECK(catalogue.keys("hinge") == std::vector<std::string>{"hinge_110", "hinge_165"});
}

TEST_CASE("solid wood moves by the coefficients of the Wood Handbook", "[catalogue][wood]") {
  // Change of size per size and percent point of moisture, FPL-GTR-190 table 13-5.
  struct Row {
    const char* material;
    double radial;
    double tangential;
  };
  const auto row = GENERATE(values<Row>({{"cherry", 0.00126, 0.00248},
                                         {"maple", 0.00165, 0.00353},
                                         {"walnut", 0.00190, 0.00274},
                                         {"yellow_birch", 0.00256, 0.00338},
                                         {"paper_birch", 0.00219, 0.00304}}));
  CAPTURE(row.material);
  const Catalogue stock = committed("stock/materials.toml");
  const Material& wood = stock.materials.at(row.material);
  CHECK(wood.radial_movement == row.radial);
  CHECK(wood.tangential_movement == row.tangential);
  CHECK_FALSE(wood.anodic_index);
}

TEST_CASE("sheet metal folds about the fibre of DIN 6935", "[catalogue][metal]") {
  const Catalogue stock = committed("stock/sheets.toml");
  for (const char* key : {"aluminium_1_5", "aluminium_2", "steel_1", "stainless_1"}) {
    CAPTURE(key);
    const Sheet& sheet = stock.sheets.at(key);
    REQUIRE(sheet.bend_radius > 0);
    // k = 0.65 + 0.5 lg(r/s), of half the thickness; up to r/s = 5 (from memory).
    const double k = 0.65 + 0.5 * std::log10(sheet.bend_radius / sheet.thickness);
    CHECK(sheet.k_factor == Approx(k / 2));
    CHECK(stock.materials.at(sheet.material).anodic_index);
  }
}

TEST_CASE("there is a fitting in stock for each use", "[catalogue][files]") {
  const Catalogue stock = committed("stock/fittings.toml");
  std::set<std::string> uses;
  for (const auto& [key, fitting] : stock.fittings) uses.insert(fitting.use);
  for (const auto& [kind, schema] : catalogue_schemas()) {
    if (kind != "fitting") continue;
    for (const std::string& use : schema->find("use")->choices) {
      CAPTURE(use);
      CHECK(uses.contains(use));
    }
  }
}

TEST_CASE("the holes of plates lie over the middle of their profile's slot", "[catalogue][files]") {
  const Catalogue stock = committed("stock/joints.toml");
  const auto over_slot = [&](const char* key, double middle) {
    for (const Vec2 hole : stock.plates.at(key).holes) {
      CAPTURE(key, hole.x, hole.y);
      CHECK(std::min(hole.x, hole.y) == middle);
    }
  };
  over_slot("gusset_40", 20);
  over_slot("corner_40", 20);
  over_slot("gusset_30", 15);
}

TEST_CASE("equipment for water, heat, gas and current is described in full", "[catalogue][files]") {
  const Catalogue catalogue = committed("equipment/services.toml");
  CHECK(catalogue.equipment.size() >= 15);
  for (const auto& [key, item] : catalogue.equipment) {
    CAPTURE(key);
    CHECK_FALSE(item.ports.empty());
    CHECK(item.comes_out);
    CHECK(item.life_years > 0);
    CHECK(item.empty_mass_kg <= item.mass_kg);
  }
  // What holds water weighs as much more as it holds: 10, 90 and 60 litres.
  const auto holds = [&](const char* key) {
    const Equipment& item = catalogue.equipment.at(key);
    return item.mass_kg - item.empty_mass_kg;
  };
  CHECK(holds("water_heater_coil") == Approx(10));
  CHECK(holds("tank_fresh_90") == Approx(90));
  CHECK(holds("tank_waste_60") == Approx(60));
}
