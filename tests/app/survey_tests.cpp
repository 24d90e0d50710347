// `ribbay survey` as somebody with a tape meets it: print, fill in, check.
#include "run.hpp"
#include "temporary_folder.hpp"

#include <catch2/catch.hpp>

#include <fstream>
#include <iterator>

using namespace ribbay;
namespace fs = std::filesystem;

namespace {

std::string text_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

const std::string kVan = RIBBAY_SOURCE_DIR "/params/vehicles/long_high.toml";

}  // namespace

TEST_CASE("a form is written once, and never over one that may be filled in", "[app][survey]") {
  const TemporaryFolder folder;
  const std::string out = (folder.path() / "van").string();
  const Run first = run({"survey", "--out", out, "--paper", "LETTER", "--unit", "in"});
  CHECK(first.code == 0);
  CHECK(first.out.find("form.pdf (7 pages, Letter") != std::string::npos);
  CHECK(text_of(out + "/form.pdf").starts_with("%PDF-1.5"));
  CHECK(fs::exists(out + "/form-6.svg"));
  const std::string blanks = text_of(out + "/survey.toml");
  CHECK(blanks.find("in\"") != std::string::npos);

  const Run second = run({"survey", "--out", out});
  CHECK(second.code == 2);
  CHECK(second.err.find("survey.form_there") != std::string::npos);
  CHECK(text_of(out + "/survey.toml") == blanks);
}

TEST_CASE("empty blanks are told by number, not as mistakes", "[app][survey]") {
  const TemporaryFolder folder;
  const std::string out = (folder.path() / "van").string();
  REQUIRE(run({"survey", "--out", out, "--stations", "2", "--heights", "3"}).code == 0);
  const Run checked = run({"survey", out + "/survey.toml"});
  CHECK(checked.code == 2);
  // x, two heights and three times three widths.
  CHECK(checked.out.find("station.s1: still empty on the form: 7-18") != std::string::npos);
  CHECK(checked.out.find("expression") == std::string::npos);
}

TEST_CASE("a good survey ends with 0, a contradiction with 1, a broken file with 2",
          "[app][survey]") {
  const Run good = run({"survey", kVan});
  CHECK(good.code == 0);
  CHECK(good.out.find("nothing doubtful") != std::string::npos);

  const TemporaryFolder folder;
  const auto spoiled = [&](const std::string& old, const std::string& fresh) {
    std::string text = text_of(kVan);
    const std::size_t at = text.find(old);
    REQUIRE(at != std::string::npos);
    const fs::path file = folder.path() / "van.toml";
    std::ofstream(file, std::ios::binary) << text.replace(at, old.size(), fresh);
    return run({"survey", file.string()});
  };
  const Run slip = spoiled("910, 895, 854", "910, 859, 854");
  CHECK(slip.code == 1);
  CHECK(slip.out.find("survey.full") != std::string::npos);
  CHECK(slip.out.find("left 895 mm would fit") != std::string::npos);
  CHECK(spoiled("[station.front]", "[station.front").code == 2);
  CHECK(run({"survey", "--stations", "99"}).code == 2);
}

TEST_CASE("a build has all its drawings in one document", "[app][survey]") {
  const TemporaryFolder folder;
  const std::string out = (folder.path() / "out").string();
  REQUIRE(run({"build", RIBBAY_SOURCE_DIR "/params/marsh/marsh.toml", "--only", "drawings", "--out",
               out})
              .code == 0);
  CHECK(text_of(out + "/drawings/set.pdf").starts_with("%PDF-1.5"));
  CHECK(text_of(out + "/manifest.json").find("drawings/set.pdf") != std::string::npos);
}
