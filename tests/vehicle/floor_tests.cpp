#include "base/messages.hpp"
#include "sample_vehicles.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace ribbay;
using namespace ribbay::tests;

namespace {

constexpr const char* kVan = R"(format = 1
[vehicle]
heights = [0, 1000, 1800]
gross_limit = 3000
[station.rear]
x = 0
both = [850, 880, 600]
[station.front]
x = 3000
both = [850, 880, 600]
)";

constexpr const char* kAxles = R"([axle.front]
x = 3600
track = 1700
limit = 1700
wheel_limit = 900
[axle.rear]
x = 600
track = 1700
limit = 1800
wheel_limit = 950
)";

std::string with_head(const std::string& line) {
  std::string text = kVan;
  return text.insert(text.find("heights"), line + "\n");
}

std::vector<std::string> told(const Result<Vehicle>& vehicle) {
  std::vector<std::string> all;
  if (vehicle) return all;
  for (const Finding& f : vehicle.error()) {
    all.push_back(f.code + ": " + message_text(f, LengthStyle::millimetres));
    CHECK_FALSE(advice_text(f, LengthStyle::millimetres).empty());
    CHECK(f.place->line > 0);
  }
  return all;
}

using Told = std::vector<std::string>;

}  // namespace

TEST_CASE("the floor is as thick as its layers", "[vehicle][floor]") {
  const std::string layers =
      "[floor]\nlayers = [ { name = \"deck\", thickness = \"12 mm\", material = \"plywood\" }, "
      "{ name = \"foam\", thickness = \"2 cm\" } ]\n";
  const auto vehicle = read_text(kVan + layers);
  REQUIRE(told(vehicle).empty());
  CHECK(vehicle->floor_thickness == Approx(12 + 20));
  REQUIRE(vehicle->floor_layers.size() == 2);
  CHECK(vehicle->floor_layers[0].material == "plywood");
  CHECK(vehicle->floor_layers[1].name == "foam");

  CHECK(told(read_text(with_head("floor_thickness = 32") + layers)).empty());
  CHECK(
      told(read_text(with_head("floor_thickness = 30") + layers)) ==
      Told{"vehicle.floor_thickness: floor_thickness is 30 mm, but the layers of the floor add up "
           "to 32 mm"});
  CHECK(told(read_text(kVan + std::string("[floor]\nlayers = [ { name = \"Deck\", thickness = 9 }, "
                                          "{ name = \"a\", thickness = 9 }, "
                                          "{ name = \"a\", thickness = 1 } ]\n"))) ==
        Told{"input.bad_name: 'Deck' cannot be a name: small letters, digits and _ only, and a "
             "letter first",
             "vehicle.same_name: there are two of kind layer called a"});
  // Without layers the thickness is what the head says.
  CHECK(read_text(with_head("floor_thickness = 30") + "[floor]\n")->floor_thickness == 30);
}

TEST_CASE("hard points stand in rows on the floor", "[vehicle][floor]") {
  const auto vehicle = read_text(kVan + std::string(R"([hard_point.seat]
x = 400
y = -300
count = 2
pitch = 600
row = "across"
thread = "7/16 UNF"
strength = "rated by the maker of the rail"
[hard_point.ring]
x = 200
y = 700
count = 3
pitch = 1200
thread = "M8"
)"));
  REQUIRE(told(vehicle).empty());
  REQUIRE(vehicle->hard_points.size() == 5);
  CHECK(vehicle->hard_points[1].name == "seat_2");
  CHECK(vehicle->hard_points[1].at == Vec2{400, 300});
  CHECK(vehicle->hard_points[1].thread == "7/16 UNF");
  CHECK(vehicle->hard_points[4].name == "ring_3");
  CHECK(vehicle->hard_points[4].at == Vec2{2600, 700});

  CHECK(
      told(read_text(kVan + std::string("[hard_point.p]\nx = 100\ny = 851\nthread = \"M8\"\n"))) ==
      Told{"vehicle.point_beside_floor: hard point p at y = 851 mm does not lie on the floor, "
           "which reaches from -850 mm to 850 mm there"});
  CHECK(told(read_text(kVan + std::string("[hard_point.p]\nx = 2900\ny = 0\ncount = 2\npitch = "
                                          "200\nthread = \"M8\"\n"))) ==
        Told{"vehicle.outside_stations: p_2 reaches from x = 3100 mm to 3100 mm, but the stations "
             "reach from 0 mm to 3000 mm"});
}

TEST_CASE("a hole must stay out of a no-drill zone with all its width", "[vehicle][floor]") {
  const auto vehicle = read_text(kVan + std::string(R"([no_drill.tank]
from = 1000
to = 2000
right = -300
left = 400
what = "fuel tank"
below = 80
[no_drill.line]
from = -50
to = 2500
right = -420
left = -380
what = "brake line"
)"));
  REQUIRE(told(vehicle).empty());
  const auto at = [&](double x, double y, double radius) {
    const NoDrill* zone = no_drill_at(*vehicle, {x, y}, radius);
    return zone == nullptr ? std::string() : zone->name;
  };
  CHECK(vehicle->no_drill[0].what == "fuel tank");
  CHECK(vehicle->no_drill[0].below == 80);
  CHECK(at(1500, 0, 0) == "tank");
  CHECK(at(500, 0, 6).empty());
  CHECK(at(994, 0, 6).empty());  // touches the edge
  CHECK(at(994.1, 0, 6) == "tank");
  // Beside a corner: 3 and 4 mm away is 5 mm.
  CHECK(at(997, 404, 5).empty());
  CHECK(at(997, 404, 5.1) == "tank");
  // Between the two: 35 mm from the tank, 45 mm from the line.
  CHECK(at(1500, -335, 50) == "tank");
  CHECK(at(1500, -360, 50) == "line");
  CHECK(at(2200, -400, 0) == "line");

  CHECK(
      told(read_text(kVan + std::string("[no_drill.z]\nfrom = 0\nto = 9\nright = 860\nleft = "
                                        "900\nwhat = \"pipe\"\n"))) ==
      Told{"vehicle.zone_beside_floor: no-drill zone z lies from y = 860 mm to 900 mm, beside the "
           "floor, which reaches from -850 mm to 850 mm"});
  CHECK(told(read_text(kVan + std::string("[no_drill.z]\nfrom = 3100\nto = 3200\nright = 0\nleft = "
                                          "90\nwhat = \"pipe\"\n"))) ==
        Told{"vehicle.outside_stations: z reaches from x = 3100 mm to 3200 mm, but the stations "
             "reach from 0 mm to 3000 mm"});
}

TEST_CASE("channels lie behind the wall and are reached through holes", "[vehicle][floor]") {
  const std::string channel =
      "[channel.sill]\nside = \"right\"\nfrom = 100\nto = 2800\nbottom = 40\ntop = 150\ndepth = "
      "70\n";
  const auto vehicle = read_text(kVan + channel +
                                 "holes = [ { x = 600, width = 120, height = 80 }, { x = 2740, "
                                 "width = 120, height = 110 } ]\n");
  REQUIRE(told(vehicle).empty());
  REQUIRE(vehicle->channels.size() == 1);
  CHECK(vehicle->channels[0].side == VanSide::right);
  CHECK(vehicle->channels[0].holes.size() == 2);
  CHECK(vehicle->channels[0].holes[1].x == 2740);
  // Room behind the wall: it makes no body.
  CHECK(vehicle_bodies(*vehicle).size() == vehicle_bodies(*read_text(kVan)).size());
  CHECK(
      told(read_text(kVan + channel +
                     "holes = [ { x = 600, width = 120, height = 80 }, { x = 2750, width = 120, "
                     "height = 80 }, { x = 900, width = 50, height = 111 } ]\n")) ==
      Told{"vehicle.access_hole: channel sill: access hole 2 reaches from x = 2690 mm to 2810 mm "
           "and is 80 mm high; the channel reaches from 100 mm to 2800 mm and is 110 mm high",
           "vehicle.access_hole: channel sill: access hole 3 reaches from x = 875 mm to 925 mm and "
           "is 111 mm high; the channel reaches from 100 mm to 2800 mm and is 110 mm high"});
}

TEST_CASE("the wheelbase is the distance of the axles and checks the papers", "[vehicle][axles]") {
  std::string axles = kAxles;
  axles.insert(axles.find("limit = 1700"), "empty = 1100\n");
  axles.insert(axles.find("limit = 1800"), "empty = 800\n");
  CHECK(read_text(kVan + axles)->wheelbase == 3000);
  CHECK(read_text(with_head("wheelbase = 3010") + axles)->wheelbase == 3000);
  CHECK(read_text(with_head("wheelbase = 3010"))->wheelbase == 3010);
  CHECK_FALSE(read_text(kVan)->wheelbase);
  CHECK(told(read_text(with_head("wheelbase = 3300") + axles)) ==
        Told{"vehicle.wheelbase: the wheelbase is 3300 mm, but the axles are 3000 mm apart; 15 mm "
             "would pass"});
  CHECK(told(read_text(kVan + std::string(kAxles))) ==
        Told{"vehicle.no_empty: axle.front has no load of the empty van",
             "vehicle.no_empty: axle.rear has no load of the empty van"});
}

TEST_CASE("a weighbridge replaces what the axles say of the empty van", "[vehicle][axles]") {
  const std::string ticket =
      "[weighbridge]\ndate = 2026-10-03\nfront = 1260\nrear = 840\nleft = 1060\nright = 1020\n"
      "total = 2100\nfuel = 0.5\n";
  std::string declared = kAxles;
  declared.insert(declared.find("limit = 1700"), "empty = 1100\n");
  for (const std::string& axles : {std::string(kAxles), declared}) {
    const auto vehicle = read_text(kVan + axles + ticket);
    REQUIRE(told(vehicle).empty());
    CHECK(vehicle->front_axle->empty_kg == 1260);
    CHECK(vehicle->rear_axle->empty_kg == 840);
    CHECK(vehicle->front_axle->empty_from == EmptyFrom::weighbridge);
    CHECK(vehicle->weighbridge->date == "2026-10-03");
    CHECK(vehicle->weighbridge->fuel == 0.5);
    CHECK(vehicle->front_axle->wheel_limit_kg == 900);
  }
  SECTION("less the people aboard, by the lever between the axles") {
    // Two people of 80 kg at x = 2850: 160 * 2250 / 3000 = 120 kg in front, 40 kg behind.
    const auto vehicle =
        read_text(kVan + std::string(kAxles) + ticket + "persons = 2\nperson = 80\nseat = 2850\n");
    REQUIRE(told(vehicle).empty());
    CHECK(vehicle->front_axle->empty_kg == Approx(1140));
    CHECK(vehicle->rear_axle->empty_kg == Approx(800));
  }
  SECTION("people whose seats nobody knows stay in the reading") {
    const auto vehicle = read_text(kVan + std::string(kAxles) + ticket + "persons = 2\n");
    REQUIRE(told(vehicle).empty());
    CHECK(vehicle->front_axle->empty_kg == 1260);
    CHECK(vehicle->weighbridge->persons == 2);
    CHECK(vehicle->weighbridge->person_kg == 75);
  }
}

TEST_CASE("contradictions of a weighbridge are told", "[vehicle][axles]") {
  struct Row {
    const char* ticket;
    Told told;
  };
  const auto row = GENERATE(values<Row>({
      // Steps of 20 kg: three readings may differ by 30 kg, four by 40 kg.
      {"front = 1260\nrear = 840\ntotal = 2130\n", {}},
      {"front = 1260\nrear = 840\ntotal = 2131\n",
       {"vehicle.weighbridge_sums: the weighbridge: total is 2131 kg, but front + rear is 2100 kg; "
        "steps of the reading explain 30 kg"}},
      {"front = 1260\nrear = 840\nleft = 1060\nright = 1000\n", {}},
      {"front = 1260\nrear = 840\nleft = 1060\nright = 999\n",
       {"vehicle.weighbridge_sums: the weighbridge: left + right is 2059 kg, but front + rear is "
        "2100 kg; steps of the reading explain 40 kg"}},
      {"front = 1260\nrear = 840\nleft = 1060\nright = 1030\nstep = 4\n",
       {"vehicle.weighbridge_sums: the weighbridge: left + right is 2090 kg, but front + rear is "
        "2100 kg; steps of the reading explain 8 kg"}},
      {"front = 1260\nrear = 840\nleft = 1060\n",
       {"vehicle.weighbridge_one_side: the weighbridge has left but not right"}},
      {"front = 1720\nrear = 840\n",
       {"vehicle.axle_overloaded: axle.front: the empty van loads it with 1720 kg, but its limit "
        "is "
        "1700 kg"}},
      {"front = 1500\nrear = 1600\n",
       {"vehicle.empty_over_gross: the axle loads of the empty van add up to 3100 kg, more than "
        "the "
        "permitted 3000 kg"}},
      {"front = 1400\nrear = 1400\nleft = 1860\nright = 940\n",
       {"vehicle.side_overloaded: the left wheels of the empty van carry 1860 kg, and their limits "
        "add up to 1850 kg"}},
      // Seats far behind would lighten the front axle: one cause, told once.
      {"front = 1260\nrear = 840\npersons = 4\nperson = 75\nseat = -40000\n",
       {"vehicle.weighbridge_people: the people aboard would load the rear axle with 4360 kg, more "
        "than its reading"}},
      {"front = 1260\nrear = 40\npersons = 3\nperson = 100\nseat = 600\n",
       {"vehicle.weighbridge_people: the people aboard would load the rear axle with 300 kg, more "
        "than its reading"}},
  }));
  CAPTURE(row.ticket);
  CHECK(told(read_text(kVan + std::string(kAxles) + "[weighbridge]\ndate = 2026-10-03\n" +
                       row.ticket)) == row.told);
}

TEST_CASE("axles and wheels are checked with or without a weighbridge", "[vehicle][axles]") {
  CHECK(
      told(read_text(kVan +
                     std::string("[weighbridge]\ndate = 2026-10-03\nfront = 1\nrear = 1\n"))) ==
      Told{"vehicle.weighbridge_alone: there are readings of a weighbridge, but not both axles to "
           "take them"});
  std::string axles = kAxles;
  axles.insert(axles.find("limit = 1700"), "empty = 1100\n");
  axles.insert(axles.find("limit = 1800"), "empty = 800\n");
  const auto at = axles.find("wheel_limit = 900");
  axles.replace(at, 17, "wheel_limit = 540");
  CHECK(
      told(read_text(kVan + axles)) ==
      Told{"vehicle.wheel_overloaded: axle.front: each wheel carries 550 kg of the empty van, but "
           "its limit is 540 kg"});
}
