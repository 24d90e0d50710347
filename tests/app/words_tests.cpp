// Another language for drawings and pages, as a file.
#include "base/wording.hpp"
#include "run.hpp"
#include "temporary_folder.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

using namespace ribbay;
namespace fs = std::filesystem;

namespace {

const std::string kHatch = RIBBAY_SOURCE_DIR "/params/examples/hatch.toml";

std::string bytes_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

std::string write(const fs::path& path, const std::string& text) {
  std::ofstream(path, std::ios::binary) << text;
  return path.string();
}

/// All drawings of a folder, one after the other.
std::string drawn_in(const fs::path& folder) {
  std::vector<fs::path> files;
  for (const auto& entry : fs::directory_iterator(folder)) {
    if (entry.path().extension() == ".svg") files.push_back(entry.path());
  }
  std::ranges::sort(files);
  std::string all;
  for (const fs::path& file : files) all += bytes_of(file);
  return all;
}

}  // namespace

TEST_CASE("drawings speak the language of a file, and English again without it", "[app][wording]") {
  const TemporaryFolder folder;
  // Tables or dotted keys; places in another order; letters beyond English.
  const std::string words = write(folder.path() / "autre.toml",
                                  "forward = \"AVANT\"\n"
                                  "mark.of_module = \"{module} : repère {mark}\"\n"
                                  "[document]\n"
                                  "part = \"Dessin de pièce\"\n");
  const auto build = [&](const std::string& name, std::vector<std::string> more) {
    const fs::path out = folder.path() / name;
    std::vector<std::string> line{"build", kHatch, "--only", "drawings", "--out", out.string()};
    line.insert(line.end(), more.begin(), more.end());
    const Run built = run(line);
    INFO(built.out << built.err);
    REQUIRE(built.code <= 1);
    return drawn_in(out / "drawings");
  };
  const std::string other = build("autre", {"--words", words});
  CHECK_THAT(other, Catch::Contains("Dessin de pièce") && Catch::Contains(": repère P") &&
                        Catch::Contains("AVANT"));
  CHECK_THAT(other, !Catch::Contains("Part drawing") && !Catch::Contains(">FORWARD<"));
  CHECK_THAT(other, Catch::Contains("Assembly drawing"));  // what the file leaves out
  const std::string english = build("english", {});
  CHECK_THAT(english, Catch::Contains("Part drawing") && !Catch::Contains("repère"));
  // The file that is there to be translated says in English what English says.
  const Run table = run({"explain", "--words"});
  REQUIRE(table.code == 0);
  CHECK(build("same", {"--words", write(folder.path() / "same.toml", table.out)}) == english);
}

TEST_CASE("every fault of a file of words is told at once with its place", "[app][wording]") {
  const TemporaryFolder folder;
  const std::string words = write(folder.path() / "autre.toml",
                                  "forwards = \"AVANT\"\n"
                                  "grain = 3\n"
                                  "far_face = \"{part}, derrière\"\n"
                                  "centre = \"中心\"\n");
  const fs::path out = folder.path() / "out";
  const Run run_with = run({"build", kHatch, "--out", out.string(), "--words", words});
  CHECK(run_with.code == 2);
  CHECK_THAT(run_with.err,
             Catch::Contains("autre.toml:1:1") && Catch::Contains("did you mean forward?"));
  CHECK_THAT(run_with.err, Catch::Contains("autre.toml:2:9") && Catch::Contains("a whole number"));
  CHECK_THAT(run_with.err, Catch::Contains("autre.toml:3:12") && Catch::Contains("{part}") &&
                               Catch::Contains("'{what}, face B'"));
  CHECK_THAT(run_with.err, Catch::Contains("autre.toml:4:10") && Catch::Contains("中心"));
  CHECK_FALSE(fs::exists(out));
}

TEST_CASE("a file of words that is not there is told with what to do", "[app][wording]") {
  const TemporaryFolder folder;
  const auto missing = [&](const std::string& name) {
    const std::string file = (folder.path() / name).string();
    const Run result =
        run({"build", kHatch, "--out", (folder.path() / "out").string(), "--words", file});
    CHECK(result.code == 2);
    CHECK_THAT(result.err, Catch::Contains("there is no file " + file) &&
                               Catch::Contains("ribbay explain --words > " + file));
    return result.err;
  };
  CHECK_THAT(missing("autre.toml"),
             Catch::Contains("check its path: no .toml file is in " + folder.path().string()));
  CHECK_THAT(missing("none/autre.toml"), Catch::Contains("check its path: there is no folder " +
                                                         (folder.path() / "none").string()));
  write(folder.path() / "autres.toml", "");
  CHECK_THAT(missing("autre.toml"), Catch::Contains("name a file that is there: autres.toml"));
}
