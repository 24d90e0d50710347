#include "layout/project.hpp"
#include "run.hpp"
#include "temporary_folder.hpp"

#include <catch2/catch.hpp>

#include <filesystem>
#include <fstream>
#include <iterator>

using namespace ribbay;
namespace fs = std::filesystem;

namespace {

const fs::path kParams = fs::path(RIBBAY_SOURCE_DIR) / "params";

std::string bytes_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

std::vector<std::string> kind_names() {
  std::vector<std::string> names;
  for (const NamedSchema& schema : project_schemas()) {
    if (schema.table == "module") names.push_back(schema.name);
  }
  return names;
}

/// The picture of the module whose name holds the kind's name: a floor cannot be called "floor".
fs::path picture_of(const std::string& kind, const fs::path& folder) {
  for (const auto& entry : fs::directory_iterator(folder)) {
    if (entry.path().stem().string().find(kind) != std::string::npos) return entry.path();
  }
  return {};
}

}  // namespace

// Each kind has an example that fits its van, and the picture beside its fields in the parameter
// reference is what the program draws of it today; `make reference` draws them again.
TEST_CASE("every kind has an example without a finding, and its picture", "[app][examples]") {
  const TemporaryFolder folder;
  for (const std::string& kind : kind_names()) {
    CAPTURE(kind);
    const fs::path example = kParams / "examples" / (kind + ".toml");
    REQUIRE(fs::exists(example));
    const fs::path out = folder.path() / kind;
    const Run built = run({"build", example.string(), "--only", "pictures", "--out", out.string()});
    INFO(built.out << built.err);
    REQUIRE(built.code == 0);
    const std::string fresh = bytes_of(picture_of(kind, out / "pictures"));
    CHECK(!fresh.empty());
    CHECK((fresh == bytes_of(kParams / "pictures" / (kind + ".svg"))));
  }
}

TEST_CASE("the examples build whole", "[app][examples]") {
  const TemporaryFolder folder;
  for (const auto& entry : fs::directory_iterator(kParams / "examples")) {
    if (entry.path().extension() != ".toml") continue;
    CAPTURE(entry.path());
    const fs::path out = folder.path() / entry.path().stem();
    const Run built = run({"build", entry.path().string(), "--out", out.string(), "--quiet"});
    INFO(built.out << built.err);
    CHECK(built.code == 0);
    CHECK(fs::exists(out / "model/assembly.step"));
    CHECK(fs::exists(out / "drawings/set.pdf"));
  }
}
