// Bench pages and templates as a build writes them.
#include "run.hpp"
#include "temporary_folder.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>

using namespace ribbay;
namespace fs = std::filesystem;

namespace {

std::string bytes_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

}  // namespace

TEST_CASE("a build writes the bench set and the templates, for the paper that is asked for",
          "[app][bench]") {
  const TemporaryFolder folder;
  const std::string out = (folder.path() / "out").string();
  const std::string file = RIBBAY_SOURCE_DIR "/params/examples/hatch.toml";
  const Run built = run({"build", file, "--only", "bench,templates", "--out", out, "--paper", "letter",
                         "--template-paper", "a3"});
  INFO(built.out << built.err);
  REQUIRE(built.code <= 1);
  std::set<std::string> listed;
  const auto manifest = nlohmann::json::parse(bytes_of(fs::path(out) / "manifest.json"));
  for (const auto& entry : manifest.at("files")) listed.insert(entry.at("path"));
  CHECK(listed.contains("bench/bench.pdf"));
  CHECK(listed.contains("bench/001-saw.svg"));
  CHECK(listed.contains("templates/p3-partition-piece.pdf"));
  CHECK(listed.contains("templates/p3-partition-piece.svg"));
  CHECK_FALSE(fs::exists(fs::path(out) / "drawings"));
  // ANSI/ASME Y14.1: Letter is 215.9 mm wide (from memory). Its pages say so.
  CHECK_THAT(bytes_of(fs::path(out) / "bench/001-saw.svg"), Catch::Contains("width=\"215.9mm\""));
  // ISO 216: A3 is 297 by 420 mm, 841.89 by 1190.55 points.
  const std::string facts = (folder.path() / "facts").string();
  REQUIRE(std::system(("pdfinfo " + out + "/templates/p3-partition-piece.pdf > " + facts).c_str()) == 0);
  CHECK_THAT(bytes_of(facts), Catch::Contains("841.89 x 1190.55"));
  CHECK(run({"build", file, "--only", "bench", "--out", out, "--paper", "A5"}).code == 2);
}
