#include "kind_samples.hpp"
#include "laid_out.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

const char* kLocker = R"(
[module.locker]
kind = "rack"
faces = "left"
profile = "slotted_40"
bracket = "bracket_40"
width = "400 mm"
depth = "400 mm"
height = "500 mm"
levels = [0, 460]
place = { rear = "100 mm", against = "right wall" }
repeat = { count = 3, pitch = "410 mm", along = "x" }
)";

/// The van grows narrower towards the front: 800 mm to each side at the rear, 500 at the front.
const char* kTaperedVan = R"(
format = 1
[vehicle]
title = "Tapered test van"
heights = [0, 1890, 1900]
surveyed = "skin"
uncertainty = "2 mm"
floor_thickness = "12 mm"
gross_limit = "3500 kg"
[station.rear]
x = "0 mm"
both = [800, 800, 30]
[station.front]
x = "3000 mm"
both = [500, 500, 30]
)";

}  // namespace

TEST_CASE("a repeated module stands at its pitch, each copy a module of its own",
          "[layout][repeat]") {
  const Layout layout = good(kLocker);
  REQUIRE(layout.modules.size() == 3);
  for (int i = 1; i <= 3; ++i) {
    const Module* copy = layout.module("locker_" + std::to_string(i));
    REQUIRE(copy != nullptr);
    CHECK(copy->envelope.lo.x == Approx(100 + 410 * (i - 1)));
    CHECK(layout.find("locker_" + std::to_string(i) + "/post.front_left") != nullptr);
  }
  // Equal parts share their marks: three lockers have no more types than one.
  CHECK(part_types(layout).size() ==
        part_types(good(kLocker, {"module.locker.repeat.count=1"})).size());
}

TEST_CASE("copies follow each other along each axis", "[layout][repeat]") {
  const std::string upright = "module.locker.repeat={count=2, pitch=\"-500 mm\", along=\"z\"}";
  const Layout z = good(kLocker, {upright, "module.locker.place.bottom=\"600 mm\""});
  CHECK(z.module("locker_2")->envelope.lo.z == Approx(100));
  const std::string across = "module.locker.repeat={count=2, pitch=\"450 mm\", along=\"y\"}";
  const Layout y = good(kLocker, {across});
  CHECK(y.module("locker_2")->envelope.lo.y - y.module("locker_1")->envelope.lo.y == Approx(450));
}

TEST_CASE("between curved walls each copy fits its own walls", "[layout][repeat]") {
  const std::string text = R"(
[module.wall]
kind = "partition"
faces = "front"
sheet = "birch_18"
height = "1000 mm"
pieces = ["1 share", "1 share"]
place = { rear = "300 mm", between = "walls" }
repeat = { count = 3, pitch = "900 mm", along = "x" }
)";
  const Layout layout = good(text, {}, kTaperedVan);
  for (int i = 1; i <= 3; ++i) {
    const std::string name = "wall_" + std::to_string(i);
    // The walls draw in by 100 mm over each metre; the front face decides, less the edge gap of 3.
    const double x = 300 + 900 * (i - 1) + 17.7;
    const double left = std::max(bounds(*layout.find(name + "/piece_1")).hi.y,
                                 bounds(*layout.find(name + "/piece_2")).hi.y);
    CHECK(left == Approx(800 - 0.1 * x - 3).margin(1e-6));
  }
}

TEST_CASE("expressions may count the copies and name each", "[layout][repeat]") {
  const std::string other = R"(
[module.end]
kind = "rack"
faces = "left"
profile = "slotted_40"
bracket = "bracket_40"
width = "400 mm"
depth = "400 mm"
height = "500 mm"
levels = [0]
place = { rear = "locker_3.front + 10 mm", against = "right wall" }
)";
  const Layout layout =
      good(std::string(kLocker) + other,
           {"module.locker.height=400 mm + self.index * 50 mm", "module.locker.levels=[0]"});
  CHECK(layout.module("locker_1")->envelope.size().z == Approx(450));
  CHECK(layout.module("locker_3")->envelope.size().z == Approx(550));
  CHECK(layout.module("end")->envelope.lo.x == Approx(100 + 2 * 410 + 400 + 10));
}

TEST_CASE("a count may come from values, and a mirrored module may be repeated",
          "[layout][repeat]") {
  const Layout layout = good(std::string(kLocker) + "[values]\nlockers = 2\n",
                             {"module.locker.repeat.count=lockers", "module.locker.mirrored=true"});
  CHECK(layout.modules.size() == 2);
}

TEST_CASE("one fault in a repeated module is told once", "[layout][repeat]") {
  const auto built = lay_out_text(kLocker, {"module.locker.profile=slotted_41"});
  INFO(words(built.findings));
  CHECK(std::ranges::count_if(built.findings,
                              [](const Finding& f) { return f.severity == Severity::error; }) == 1);
}

TEST_CASE("a module is made over with other values, mirrored and repeated", "[layout][reuse]") {
  const std::string reuse = R"(
[module.low]
based_on = "locker"
height = "300 mm"
levels = [0, 260]
mirrored = true
place = { rear = "1500 mm" }
repeat = { count = 2 }
)";
  const Layout layout = good(std::string(kLocker) + reuse);
  REQUIRE(layout.modules.size() == 5);
  const Box second = layout.module("low_2")->envelope;
  // The pitch, the wall and all other sizes are the locker's.
  CHECK(second.lo.x == Approx(1500 + 410));
  CHECK(second.size().z == Approx(300));
  CHECK(second.size().x == Approx(400));
  CHECK(second.lo.y == Approx(layout.module("locker_1")->envelope.lo.y));
}

TEST_CASE("an option leaves modules out, and what stands by them is told", "[layout][options]") {
  const std::string text =
      std::string("[options]\nwinter = false\n") + kPlainRack + "when = \"winter\"\n" + R"(
[module.other]
kind = "rack"
faces = "rear"
profile = "slotted_40"
bracket = "bracket_40"
width = 500
depth = 500
height = 500
levels = [0]
)";
  const Layout without =
      good(text + "place = { rear = \"if(winter, rack.front, 100 mm)\", middle = 0 }\n");
  CHECK(without.module("rack") == nullptr);
  CHECK(without.find("rack/post.front_left") == nullptr);
  CHECK(without.module("other")->envelope.lo.x == Approx(100));
  const Layout with =
      good(text + "place = { rear = \"if(winter, rack.front, 100 mm)\", middle = 0 }\n",
           {"options.winter=true"});
  CHECK(with.module("rack") != nullptr);
  CHECK(with.module("other")->envelope.lo.x == Approx(700));

  const auto by_name = lay_out_text(text + "place = { rear = \"rack.front\", middle = 0 }\n");
  INFO(words(by_name.findings));
  CHECK(has_code(by_name.findings, "expression.left_out"));
  const auto beside = lay_out_text(text + "place = { ahead_of = \"rack\", middle = 0 }\n");
  INFO(words(beside.findings));
  REQUIRE(beside.findings.size() == 1);
  CHECK(message_text(beside.findings[0], LengthStyle::millimetres) ==
        "module other: ahead_of names 'rack', which its when leaves out");
  CHECK(advice_text(beside.findings[0], LengthStyle::millimetres) ==
        "leave other out by the same when, or let it stand by something that is there");
}
