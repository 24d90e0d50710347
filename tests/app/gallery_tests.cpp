#include "run.hpp"
#include "temporary_folder.hpp"

#include <catch2/catch.hpp>

#include <filesystem>
#include <fstream>
#include <iterator>

using namespace ribbay;
namespace fs = std::filesystem;

namespace {

std::string bytes_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

}  // namespace

// The pictures in the README are what the program draws today; `make gallery` draws them again.
TEST_CASE("the gallery shows what the program draws", "[app][gallery]") {
  const fs::path root = RIBBAY_SOURCE_DIR;
  const TemporaryFolder folder;
  const fs::path out = folder.path() / "marsh";
  const Run built = run({"build", (root / "params/marsh/marsh.toml").string(), "--only", "drawings",
                         "--out", out.string()});
  INFO(built.out << built.err);
  REQUIRE(built.code == 0);
  int pictures = 0;
  for (const auto& entry : fs::directory_iterator(root / "outputs/gallery")) {
    CAPTURE(entry.path());
    ++pictures;
    const fs::path fresh = out / "drawings" / entry.path().filename();
    REQUIRE(fs::exists(fresh));
    CHECK((bytes_of(entry.path()) == bytes_of(fresh)));
  }
  CHECK(pictures == 5);
}
