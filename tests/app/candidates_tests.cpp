#include "bench_project.hpp"
#include "run.hpp"
#include "temporary_folder.hpp"

#include <catch2/catch.hpp>

#include <fstream>
#include <iterator>

using namespace ribbay;
namespace fs = std::filesystem;

namespace {

/// A bay of the bench rack is 390 wide, 500 deep and 360 high between its rails.
std::string project(const std::string& choice) {
  const auto box = [](const std::string& key, const std::string& size) {
    return "[equipment." + key + "]\ntitle = \"Fridge " + key +
           "\"\nmass = 12\nassumption = true\nbox.body = { at = [0, 0, 0], size = " + size + " }\n";
  };
  return sound_project() + box("wide", "[400, 400, 300]") + box("tall", "[300, 480, 380]") +
         box("good", "[380, 400, 340]") + box("small", "[300, 400, 200]") +
         "[module.rack.holds.fridge]\nbay = 1\nlevel = 1\n" + choice;
}

std::string line_with(const std::string& text, const std::string& words) {
  const std::size_t at = text.find(words);
  if (at == std::string::npos) return {};
  const std::size_t start = text.rfind('\n', at) + 1;
  return text.substr(start, text.find('\n', at) - start);
}

}  // namespace

TEST_CASE("the first candidate that fits is built, and all of them are compared",
          "[app][candidates]") {
  const TemporaryFolder home;
  const std::string file = write_project(
      home.path(), project("candidates = [\"wide\", \"tall\", \"good\", \"small\"]\n"));
  const Run check = run({"check", file});
  CAPTURE(check.out, check.err);
  CHECK(check.code == 0);
  CHECK_THAT(line_with(check.out, "(wide)"),
             Catch::Contains("400 mm") && Catch::Contains("390 mm"));
  CHECK_THAT(line_with(check.out, "(tall)"), Catch::Contains("rack/fridge"));
  // 390 less 380 leaves 5 to the line of the posts; the brackets on them are 36 wide in their 40.
  CHECK(line_with(check.out, "(good)") == "  * Fridge good (good), 12 kg: fits, clear gap 7 mm");
  CHECK_THAT(line_with(check.out, "(small)"), Catch::Contains("fits, clear gap "));

  const std::string out = (home.path() / "out").string();
  const Run build = run({"build", file, "--out", out, "--only", "tables"});
  CAPTURE(build.out, build.err);
  CHECK(build.code == 0);
  std::ifstream in(out + "/shop/candidates.csv", std::ios::binary);
  const std::string csv{std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
  CHECK_THAT(csv, Catch::StartsWith("place,candidate,title,fits,first finding,clear gap mm,mass_kg,"
                                    "built\r\nrack/fridge,wide,Fridge wide,no,"));
  CHECK_THAT(csv, Catch::Contains("rack/fridge,good,Fridge good,yes,,7,12,yes\r\n"));
  std::ifstream hardware(out + "/shop/hardware.csv", std::ios::binary);
  const std::string bought{std::istreambuf_iterator<char>(hardware),
                           std::istreambuf_iterator<char>()};
  CHECK_THAT(bought, Catch::Contains("\r\ngood,Fridge good,"));
  CHECK_THAT(bought, !Catch::Contains("Fridge wide"));
}

TEST_CASE("an item beside candidates is built whether it fits or not", "[app][candidates]") {
  const TemporaryFolder home;
  const std::string file =
      write_project(home.path(), project("item = \"tall\"\ncandidates = [\"tall\", \"small\"]\n"));
  const Run check = run({"check", file});
  CAPTURE(check.out);
  CHECK(check.code == 1);
  CHECK_THAT(line_with(check.out, "(tall)"), Catch::StartsWith("  * "));
  CHECK_THAT(line_with(check.out, "(small)"), Catch::Contains("fits, clear gap "));
}

TEST_CASE("an error of the project that no candidate can help is held against none of them",
          "[app][candidates]") {
  const TemporaryFolder home;
  // Something in the second bay is too tall for it, whatever stands in the first.
  const std::string file = write_project(
      home.path(), project("candidates = [\"good\", \"small\"]\n[module.rack.holds.other]\nbay = "
                           "2\nlevel = 1\nitem = \"tall\"\n"));
  const Run check = run({"check", file});
  CAPTURE(check.out);
  CHECK(check.code == 1);
  CHECK_THAT(line_with(check.out, "(good)"), Catch::StartsWith("  * ") && Catch::Contains("fits"));
}

TEST_CASE("a place that holds nothing, or nothing that is known, is told", "[app][candidates]") {
  const TemporaryFolder home;
  const Run nothing = run({"check", write_project(home.path(), project(""))});
  CHECK(nothing.code == 2);
  CHECK_THAT(nothing.out, Catch::Contains("rack/fridge: nothing says what stands there"));
  CHECK_THAT(nothing.out, !Catch::Contains("candidates for"));
  const Run unknown =
      run({"check", write_project(home.path(), project("candidates = [\"good\", \"goood\"]\n"))});
  CHECK(unknown.code == 2);
  CHECK_THAT(unknown.out, Catch::Contains("rack/fridge: there is no equipment 'goood'") &&
                              Catch::Contains("mend: write good\n"));
}

namespace {

/// Two boxes on a board that is 300 below another.
std::string stand_project(const std::string& choice) {
  return project("item = \"small\"\n") + R"(
[module.stand]
kind = "custom"
faces = "rear"
width = "1000 mm"
depth = "500 mm"
height = "330 mm"
place = { rear = "1700 mm", middle = "0 mm", on = "floor" }
[module.stand.panels.low]
sheet = "birch_12"
at = [0, 0, 0]
size = [1000, 500]
[module.stand.panels.high]
sheet = "birch_12"
at = [0, 0, 312]
size = [1000, 500]
[module.stand.panels.end]
sheet = "birch_12"
at = [988, 0, 12]
size = [500, 300]
faces = "right"
[module.stand.equipment.box]
at = [50, 50, 12]
repeat = { count = 2, pitch = [500, 0, 0] }
)" + choice;
}

}  // namespace

TEST_CASE("candidates stand in every kind of module that holds equipment, copies too",
          "[app][candidates]") {
  const TemporaryFolder home;
  const std::string file =
      write_project(home.path(), stand_project("candidates = [\"tall\", \"small\"]\n"));
  const Run check = run({"check", file});
  CAPTURE(check.out, check.err);
  CHECK_THAT(check.out, Catch::Contains("candidates for stand/box\n"));
  CHECK_THAT(line_with(check.out, "(tall)"), Catch::Contains("stand/"));
  // The board above is 100 over it; the other box is 200 or more away, and so is the rack.
  CHECK(line_with(check.out, "(small)") ==
        "  * Fridge small (small), 12 kg: fits, clear gap 100 mm");
}

TEST_CASE("candidates of a place that is left out are not compared", "[app][candidates]") {
  const TemporaryFolder home;
  const std::string file = write_project(
      home.path(), stand_project("candidates = [\"tall\", \"small\"]\nwhen = false\n"));
  const Run check = run({"check", file});
  CAPTURE(check.out, check.err);
  CHECK_THAT(check.out, !Catch::Contains("candidates for"));
}

TEST_CASE("an item that is none of its candidates is told with both", "[app][candidates]") {
  const TemporaryFolder home;
  const std::string file = write_project(
      home.path(), project("item = \"good\"\ncandidates = [\"wide\", \"small\"]\n"));
  const Run check = run({"check", file});
  CAPTURE(check.out, check.err);
  CHECK(check.code == 2);
  CHECK_THAT(check.out, Catch::Contains("rack/fridge: its item 'good' is none of its candidates: "
                                        "wide, small") &&
                            Catch::Contains("add 'good' to candidates"));
}

TEST_CASE("when none fits, the table still says why", "[app][candidates]") {
  const TemporaryFolder home;
  const std::string file =
      write_project(home.path(), project("candidates = [\"wide\", \"tall\"]\n"));
  const Run check = run({"check", file});
  CAPTURE(check.out, check.err);
  CHECK(check.code == 2);
  CHECK_THAT(line_with(check.out, "(wide)"),
             Catch::StartsWith("  * Fridge wide (wide), 12 kg: ") && Catch::Contains("390 mm"));
  CHECK_THAT(line_with(check.out, "(tall)"), Catch::Contains("rack/fridge"));
}

TEST_CASE("a size is sought with the candidate that fits", "[app][candidates][size]") {
  const TemporaryFolder home;
  // The first candidate never fits, the second always does.
  const std::string file =
      write_project(home.path(), project("candidates = [\"wide\", \"small\"]\n"));
  const Run size =
      run({"size", file, "--value", "rack.height", "--from", "900mm", "--to", "910mm"});
  CAPTURE(size.out, size.err);
  CHECK(size.code == 0);
  const Run alone = run({"size", file, "--value", "rack.height", "--from", "900mm", "--to",
                         "910mm", "--set", "rack.holds.fridge.item=wide"});
  CAPTURE(alone.out);
  CHECK(alone.code == 1);
}
