#include "base/messages.hpp"
#include "sample_vehicles.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace ribbay;
using namespace ribbay::tests;

namespace {

/// Two stations and a rib on each side; `head`, `rear`, `front` are more lines of their tables.
std::string survey(const std::string& head, const std::string& rear, const std::string& front) {
  return "format = 1\n[vehicle]\nheights = [0, 600, 1200, 1800]\n" + head +
         "[station.rear]\nx = 0\n" + rear + "[station.front]\nx = 2000\n" + front + R"(
[rib.left]
side = "left"
x = 400
width = 60
depth = 30
from = 50
to = 1500
[rib.left_front]
side = "left"
x = 1600
width = 60
depth = 36
from = 50
to = 1100
[rib.right]
side = "right"
x = 500
width = 60
depth = 34
from = 700
to = 1500
)";
}

const std::string kRear = "left = [850, 880, 870, 600]\nright = [840, 870, 860, 590]\n";
const std::string kFront = "both = [860, 890, 880, 610]\n";

Vehicle read_good(const std::string& text) {
  const auto vehicle = read_text(text);
  std::string told;
  if (!vehicle) {
    for (const Finding& f : vehicle.error()) told += finding_text(f, LengthStyle::millimetres);
  }
  CAPTURE(told);
  REQUIRE(vehicle);
  return *vehicle;
}

std::vector<double> widths(const std::vector<WallPoint>& wall) {
  std::vector<double> result;
  for (const WallPoint& p : wall) result.push_back(p.half_width);
  return result;
}

std::vector<double> uncertainties(const std::vector<WallPoint>& wall) {
  std::vector<double> result;
  for (const WallPoint& p : wall) result.push_back(p.uncertainty);
  return result;
}

using List = std::vector<double>;

}  // namespace

TEST_CASE("the full width stands in for one side, with the doubt of both readings",
          "[vehicle][station]") {
  const auto vehicle = read_good(
      survey("uncertainty = 3\n", "left = [850, 880, 870, 600]\nfull = [1690, 1750, 1730, 1190]\n",
             "right = [860, 890, 880, 610]\nfull = [1725, 1781, 1759, 1221]\nuncertainty = 5\n"));
  const Station& rear = vehicle.stations[0];
  CHECK(widths(rear.right) == List{840, 870, 860, 590});
  CHECK(uncertainties(rear.left) == List{3, 3, 3, 3});
  CHECK(uncertainties(rear.right) == List{6, 6, 6, 6});
  CHECK(rear.uncertainty == 6);
  CHECK(rear.full == List{1690, 1750, 1730, 1190});
  CHECK(widths(vehicle.stations[1].left) == List{865, 891, 879, 611});
  CHECK(uncertainties(vehicle.stations[1].left) == List{10, 10, 10, 10});
}

TEST_CASE("beside both sides the full width is kept as taped", "[vehicle][station]") {
  const auto vehicle = read_good(survey(
      "", kRear + "full = [1700, 1750, 1730, 1190]\nnote = \"door seal in the way\"\n", kFront));
  CHECK(vehicle.stations[0].full == List{1700, 1750, 1730, 1190});
  CHECK(widths(vehicle.stations[0].right) == List{840, 870, 860, 590});
  CHECK(vehicle.stations[0].note == "door seal in the way");
  CHECK(vehicle.stations[1].full.empty());
}

TEST_CASE("the survey may be less sure at some heights", "[vehicle][station]") {
  const auto vehicle =
      read_good(survey("uncertainty = 2\n", kRear + "uncertainty = [2, 2, 7, 4]\n", kFront));
  CHECK(uncertainties(vehicle.stations[0].left) == List{2, 2, 7, 4});
  CHECK(vehicle.stations[0].uncertainty == 7);
  CHECK(survey_uncertainty(vehicle, 100, 200) == 7);
  // The triangles below 600 mm have corners at 0 and 600 mm only.
  CHECK(survey_uncertainty(vehicle, 100, 200, 100, 500) == 2);
  CHECK(survey_uncertainty(vehicle, 100, 200, 100, 700) == 7);
  CHECK(survey_uncertainty(vehicle, 100, 200, 1300, 1700) == 7);
  // In front of the diagonal from (rear, 1800) to (front, 1200) only its ends and the front count.
  CHECK(survey_uncertainty(vehicle, 1900, 2000, 1500, 1700) == 4);
}

TEST_CASE("stations that measure different things are brought to the skin", "[vehicle][station]") {
  const auto skin = read_good(survey("", kRear, kFront));

  SECTION("rib faces by the ribs behind them") {
    // Left, at x = 0: the rib at 400 passes 600 and 1200. Right: 34 mm at 1200 only.
    const auto mixed = read_good(survey("",
                                        "surveyed = \"rib_face\"\nleft = [850, 850, 840, 600]\n"
                                        "right = [840, 870, 826, 590]\n",
                                        kFront));
    CHECK(widths(mixed.stations[0].left) == widths(skin.stations[0].left));
    CHECK(widths(mixed.stations[0].right) == widths(skin.stations[0].right));
    CHECK(mixed.stations[0].surveyed == Surveyed::skin);
    // The ribs stand in front of the skin again.
    CHECK(clear_width(mixed, 380, 420, 600, 700)->left ==
          clear_width(skin, 380, 420, 600, 700)->left);
    CHECK(vehicle_bodies(mixed).size() == vehicle_bodies(skin).size());
  }
  SECTION("the nearest rib of those that pass the height counts") {
    // At x = 2000 the rib at 1600 passes 600 (36 mm), and only that at 400 passes 1200 (30 mm).
    const auto mixed = read_good(survey("", kRear,
                                        "surveyed = \"rib_face\"\nleft = [860, 854, 850, 610]\n"
                                        "right = [860, 890, 846, 610]\n"));
    CHECK(widths(mixed.stations[1].left) == widths(skin.stations[1].left));
    CHECK(widths(mixed.stations[1].right) == widths(skin.stations[1].right));
  }
  SECTION("a lining by what is told to lie behind it, height by height") {
    const auto mixed = read_good(
        survey("", kRear,
               "surveyed = \"lining\"\nboth = [841, 845, 840, 610]\nfull = [1682, 1690, 1680, "
               "1220]\nbehind = [19, 45, 40, 0]\nabove = 25\n"));
    CHECK(widths(mixed.stations[1].left) == widths(skin.stations[1].left));
    CHECK(mixed.stations[1].full == List{1720, 1780, 1760, 1220});
    CHECK(mixed.stations[1].left.back().z == 1825);
  }
  SECTION("one number serves all heights, but the ridge stays on the centre line") {
    const auto mixed = read_good(survey("surveyed = \"lining\"\n", "surveyed = \"skin\"\n" + kRear,
                                        "both = [840, 870, 860, 0]\nbehind = 20\n"));
    CHECK(widths(mixed.stations[1].left) == List{860, 890, 880, 0});
  }
  SECTION("rib faces all over stay what they are") {
    const auto faces = read_good(survey("surveyed = \"rib_face\"\n", kRear, kFront));
    CHECK(widths(faces.stations[0].left) == List{850, 880, 870, 600});
    CHECK(faces.stations[0].surveyed == Surveyed::rib_face);
  }
  SECTION("unless one of them says what lies behind") {
    const auto faces =
        read_good(survey("surveyed = \"rib_face\"\n", kRear + "behind = 31\n", kFront));
    CHECK(widths(faces.stations[0].left) == List{881, 911, 901, 631});
    CHECK(widths(faces.stations[1].left) == List{860, 926, 910, 610});
    CHECK(faces.stations[1].surveyed == Surveyed::skin);
  }
}

TEST_CASE("a survey to rib faces brought to the skin is the survey to the skin",
          "[vehicle][station]") {
  // The committed van, measured again by somebody who could not get behind the ribs at two
  // stations: what the skin says less the depth of the rib beside the tape.
  const Vehicle skin = committed_vehicle("long_mid");
  std::string text = read_file(vehicle_path("long_mid")).value();
  for (const std::size_t i : {std::size_t{1}, std::size_t{3}}) {
    const Station& station = skin.stations[i];
    const auto head = text.find("[station." + station.name + "]");
    REQUIRE(head != std::string::npos);
    for (const auto side : {VanSide::left, VanSide::right}) {
      const bool left = side == VanSide::left;
      const auto at = text.find(left ? "\nleft" : "\nright", head) + 1;
      std::string list = left ? "left = [" : "right = [";
      for (const WallPoint& p : left ? station.left : station.right) {
        double depth = 0.0;
        double nearest = 1e9;
        for (const Rib& rib : skin.ribs) {
          if (rib.side != side || p.z < rib.from || p.z > rib.to) continue;
          if (std::abs(rib.x - station.x) >= nearest) continue;
          nearest = std::abs(rib.x - station.x);
          depth = rib.depth;
        }
        list += std::to_string(p.half_width - depth) + ", ";
      }
      text.replace(at, text.find('\n', at) - at, list + "]");
    }
    text.insert(text.find("\nleft", head) + 1, "surveyed = \"rib_face\"\n");
  }
  const auto vehicle = read_good(text);
  for (std::size_t i = 0; i < skin.stations.size(); ++i) {
    CAPTURE(i);
    const Station& a = vehicle.stations[i];
    const Station& b = skin.stations[i];
    for (std::size_t k = 0; k < a.left.size(); ++k) {
      CHECK(a.left[k].half_width == Approx(b.left[k].half_width).margin(1e-9));
      CHECK(a.right[k].half_width == Approx(b.right[k].half_width).margin(1e-9));
    }
  }
}

TEST_CASE("diagonals are kept with the points that they join", "[vehicle][station]") {
  const auto vehicle =
      read_good(survey("uncertainty = 2\n", kRear + "uncertainty = [2, 6, 2, 2]\n", kFront) +
                R"([diagonal.floor]
from = { station = "rear", side = "left", height = 0 }
to = { station = "front", side = "right", height = 0 }
length = 2634
[diagonal.up]
from = { station = "rear", side = "right", height = 300 }
to = { x = 2000, y = "-86 cm", z = 100 }
length = 2010
[diagonal.roof]
from = { station = "front", side = "centre", height = 1800 }
to = { station = "rear", side = "left", height = 1500 }
length = 2170
)");
  REQUIRE(vehicle.diagonals.size() == 3);
  CHECK(vehicle.diagonals[0].name == "floor");
  CHECK(vehicle.diagonals[0].length == 2634);
  CHECK(vehicle.diagonals[0].from.at == Vec3{0, 850, 0});
  CHECK(vehicle.diagonals[0].to.at == Vec3{2000, -860, 0});
  CHECK(vehicle.diagonals[0].to.station == "front");
  CHECK(vehicle.diagonals[0].to.uncertainty == 2);
  // Halfway between two heights.
  CHECK(vehicle.diagonals[1].from.at == Vec3{0, -855, 300});
  CHECK(vehicle.diagonals[1].from.uncertainty == 4);
  CHECK(vehicle.diagonals[1].to.at == Vec3{2000, -860, 100});
  CHECK(vehicle.diagonals[1].to.station.empty());
  CHECK(vehicle.diagonals[2].from.at == Vec3{2000, 0, 1800});
  CHECK(vehicle.diagonals[2].to.at == Vec3{0, 735, 1500});
}

TEST_CASE("a diagonal joins what was measured, before it is brought to the skin",
          "[vehicle][station]") {
  const auto vehicle = read_good(
      survey("", kRear, "surveyed = \"lining\"\nboth = [840, 870, 860, 600]\nbehind = 20\n") +
      "[diagonal.one]\nfrom = { station = \"front\", side = \"left\", height = 600 }\n"
      "to = { x = 0, y = 0, z = 0 }\nlength = 2260\n");
  CHECK(vehicle.diagonals[0].from.at.y == 870);
  CHECK(wall_y(vehicle, VanSide::left, 2000, 600) == 890.0);
}

TEST_CASE("each fault of a survey is told in full", "[vehicle][station]") {
  struct Row {
    const char* code;
    std::string head, rear, front;
    const char* message;
  };
  const std::string lining = "surveyed = \"lining\"\n";
  const std::string end = "[diagonal.d]\nlength = 5\nfrom = { x = 0, y = 0, z = 0 }\n";
  const auto row = GENERATE_COPY(values<Row>({
      {"vehicle.behind_missing", "", kRear, lining + kFront,
       "station front was measured to the lining and has to be brought to the skin like station "
       "rear; how far the skin lies behind is not said"},
      {"vehicle.behind_skin", "", kRear + "behind = 30\n", kFront,
       "station rear was measured to the skin and has no behind"},
      {"vehicle.list_count", "", kRear, lining + kFront + "behind = [20, 20]\n",
       "station front: behind has 2 values for 4 heights"},
      {"vehicle.list_count", "", kRear + "uncertainty = [1, 2, 3]\n", kFront,
       "station rear: uncertainty has 3 values for 4 heights"},
      {"vehicle.width_count", "", kRear + "full = [1690, 1750, 1730]\n", kFront,
       "station rear: full has 3 values for 4 heights"},
      {"vehicle.which_widths", "", "full = [1690, 1750, 1730, 1190]\n", kFront,
       "station rear needs half widths, either both or left and right"},
      {"vehicle.full_too_small", "",
       "left = [850, 880, 870, 600]\nfull = [1690, 880, 1730, 1190]\n", kFront,
       "station rear: at height 600 mm the full width is 880 mm, and the half width to the left is "
       "already 880 mm"},
      {"vehicle.diagonal_end", "", kRear, kFront + end + "to = { x = 1, y = 2 }\n",
       "diagonal d: to needs either station, side and height, or x, y and z"},
      {"vehicle.diagonal_end", "", kRear,
       kFront + end + "to = { station = \"rear\", side = \"left\", height = 0, x = 1 }\n",
       "diagonal d: to needs either station, side and height, or x, y and z"},
      {"vehicle.diagonal_point", "", kRear, kFront + end + "to = { x = 0, y = 0, z = 0 }\n",
       "diagonal d: both ends are the same point"},
      {"vehicle.no_such_station", "", kRear,
       kFront + end + "to = { station = \"raer\", side = \"left\", height = 0 }\n",
       "diagonal d: there is no station raer"},
      {"vehicle.above_station", "", kRear,
       kFront + end + "to = { station = \"rear\", side = \"left\", height = 1801 }\n",
       "diagonal d: one end lies at height 1801 mm, but station rear ends at 1800 mm"},
  }));
  const auto vehicle = read_text(survey(row.head, row.rear, row.front));
  REQUIRE_FALSE(vehicle);
  REQUIRE(vehicle.error().size() == 1);
  CHECK(vehicle.error()[0].code == row.code);
  CHECK(message_text(vehicle.error()[0], LengthStyle::millimetres) == row.message);
  CHECK_FALSE(advice_text(vehicle.error()[0], LengthStyle::millimetres).empty());
  CHECK(vehicle.error()[0].place->line > 0);
}

TEST_CASE("a side without ribs needs to be told what lies behind", "[vehicle][station]") {
  auto text = survey("", kRear, "surveyed = \"rib_face\"\n" + kFront);
  text = text.substr(0, text.find("[rib.right]"));
  const auto vehicle = read_text(text);
  REQUIRE_FALSE(vehicle);
  REQUIRE(vehicle.error().size() == 1);
  CHECK(message_text(vehicle.error()[0], LengthStyle::millimetres) ==
        "station front was measured to the rib_face and has to be brought to the skin like station "
        "rear; no rib stands on the right to take its depth from");
  // A rib with a fault of its own is the root cause: nothing is told about what lies behind.
  const auto other = read_text(text + "[rib.right]\nside = \"right\"\nx = 500\n");
  REQUIRE_FALSE(other);
  for (const Finding& finding : other.error()) CHECK(finding.code == "input.missing");
}
