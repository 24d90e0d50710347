#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>
#include <sstream>
#include <string>
#include <vector>

// Who may include whom is written once, in the USES and HIDES lines of the CMake files. The
// compiler sees to it for folders of our own, but not for libraries that lie in /usr/include for
// everybody. This reads every #include line and compares.

namespace fs = std::filesystem;

namespace {

using Names = std::set<std::string>;

struct Module {
  fs::path folder;
  Names uses;   ///< seen by its users as well
  Names hides;  ///< seen in its src/ only
};
using Modules = std::map<std::string, Module>;

std::vector<std::string> split(const std::string& text, char at) {
  std::vector<std::string> words;
  std::istringstream in(text);
  for (std::string word; std::getline(in, word, at);) words.push_back(word);
  return words;
}

Names names(const std::string& list) {
  const auto words = split(list, ';');
  return {words.begin(), words.end()};
}

Modules read_modules() {
  Modules modules;
  std::ifstream in(RIBBAY_BINARY_DIR "/modules.txt");
  for (std::string line; std::getline(in, line);) {
    auto fields = split(line, '|');
    fields.resize(4);
    modules[fields[0]] = {fields[1], names(fields[2]), names(fields[3])};
  }
  // The door to the kernel is no folder of its own: it stands in solids/ and shows what solids
  // hides.
  if (modules.contains("solids")) {
    const Module& solids = modules["solids"];
    modules["solids_kernel"] = {solids.folder, {"solids"}, {}};
    modules["solids_kernel"].uses.insert(solids.hides.begin(), solids.hides.end());
  }
  return modules;
}

/// Everything that whoever names `seen` gets to see.
Names closure(const Modules& modules, Names seen) {
  std::vector<std::string> open(seen.begin(), seen.end());
  while (!open.empty()) {
    const auto module = modules.find(open.back());
    open.pop_back();
    if (module == modules.end()) continue;
    for (const std::string& name : module->second.uses) {
      if (seen.insert(name).second) open.push_back(name);
    }
  }
  return seen;
}

/// Headers of libraries from outside, and the CMake targets that stand for them. No target:
/// nobody's.
struct Outside {
  std::string begins;
  std::string ends;
  std::vector<std::string> targets;
};
const std::vector<Outside>& outside_libraries() {
  static const std::vector<Outside> libraries = {
      {"", ".hxx", {"occt_modeling", "occt_exchange", "occt_hidden_lines"}},
      {"CGAL/", "", {"cgal_headers"}},
      {"boost/polygon/", "", {"Boost::headers"}},
      {"boost/", "", {}},
      {"assimp/", "", {"PkgConfig::assimp"}},
      {"toml", "", {"PkgConfig::tomlplusplus"}},
      {"Eigen/", "", {"Eigen3::Eigen"}},
      {"nlohmann/", "", {"nlohmann_json::nlohmann_json"}},
      {"CLI/", "", {"CLI11::CLI11"}},
      {"tl/", "", {"tl::expected"}},
      {"librsvg/", "", {"PkgConfig::librsvg"}},
      {"cairo", ".h", {"PkgConfig::cairo_pdf"}},
      {"glpk", "", {"glpk"}},
      {"qrencode", ".h", {"PkgConfig::libqrencode"}},
      {"muParser", "", {}},
      {"catch2/", "", {}},
      {"benchmark/", "", {}},
  };
  return libraries;
}

struct Include {
  std::string path;
  int line = 0;
};

std::vector<Include> includes_in(std::istream& in) {
  std::vector<Include> found;
  int number = 0;
  for (std::string line; std::getline(in, line);) {
    ++number;
    const std::size_t start = line.find_first_not_of(" \t");
    if (start == std::string::npos || line[start] != '#') continue;
    const std::size_t word = line.find_first_not_of(" \t", start + 1);
    if (word == std::string::npos || line.compare(word, 7, "include") != 0) continue;
    const std::size_t open = line.find_first_of("<\"", word);
    const std::size_t close = line.find_first_of(">\"", open + 1);
    if (close != std::string::npos)
      found.push_back({line.substr(open + 1, close - open - 1), number});
  }
  return found;
}

/// Why a file that sees `allowed` must not include `path`; empty when it may.
std::string objection(const Modules& modules, const Names& allowed, const std::string& path) {
  const std::string first = path.substr(0, path.find('/'));
  if (path.find('/') != std::string::npos && modules.contains(first)) {
    return allowed.contains(first) ? "" : "its CMakeLists.txt does not name " + first;
  }
  for (const Outside& library : outside_libraries()) {
    if (!path.starts_with(library.begins) || !path.ends_with(library.ends)) continue;
    const bool seen = std::ranges::any_of(
        library.targets, [&](const std::string& target) { return allowed.contains(target); });
    return seen ? "" : "that library has its home elsewhere";
  }
  return "";
}

/// What a file of a module may see: less in its public headers than in its src/.
Names allowed_in(const Modules& modules, const std::string& name, const fs::path& file) {
  const Module& module = modules.at(name);
  Names seen = module.uses;
  seen.insert(name);
  const fs::path inside = file.lexically_relative(module.folder);
  if (*inside.begin() != "include") seen.insert(module.hides.begin(), module.hides.end());
  if (name == "solids" && *inside.begin() != "include") seen.insert("solids_kernel");
  return closure(modules, seen);
}

std::vector<fs::path> sources_of(const Module& module) {
  std::vector<fs::path> files;
  for (const auto& entry : fs::recursive_directory_iterator(module.folder)) {
    const std::string extension = entry.path().extension().string();
    if (entry.is_regular_file() && (extension == ".hpp" || extension == ".cpp")) {
      files.push_back(entry.path());
    }
  }
  std::ranges::sort(files);
  return files;
}

bool stands_in(const Module& module, const std::string& folder) {
  return module.folder.parent_path().filename() == folder;
}

}  // namespace

TEST_CASE("a folder includes only what its CMake file names", "[architecture]") {
  const Modules modules = read_modules();
  REQUIRE(modules.size() > 10);
  std::string offences;
  std::size_t files = 0;
  for (const auto& [name, module] : modules) {
    if (name == "solids_kernel") continue;
    for (const fs::path& file : sources_of(module)) {
      ++files;
      const Names allowed = allowed_in(modules, name, file);
      std::ifstream in(file);
      for (const Include& include : includes_in(in)) {
        const std::string why = objection(modules, allowed, include.path);
        if (why.empty()) continue;
        offences += file.string() + ":" + std::to_string(include.line) + ": includes " +
                    include.path + ": " + why + "\n";
      }
    }
  }
  CHECK(offences == "");
  CHECK(files > 50);
}

TEST_CASE("the check notices what does not belong", "[architecture]") {
  const Modules modules = {
      {"base", {"/x/modeler/base", {"tl::expected"}, {}}},
      {"shape", {"/x/modeler/shape", {"base"}, {"cgal_headers"}}},
      {"solids", {"/x/modeler/solids", {"shape"}, {"occt_modeling"}}},
      {"app", {"/x/exporters/app", {"base"}, {"shape", "CLI11::CLI11"}}},
  };
  struct Row {
    const char* module;
    const char* file;
    const char* include;
    bool fine;
  };
  const auto row = GENERATE(values<Row>({
      {"shape", "/x/modeler/shape/src/a.cpp", "base/vec.hpp", true},
      {"shape", "/x/modeler/shape/src/a.cpp", "CGAL/number_utils.h", true},
      {"shape", "/x/modeler/shape/src/a.cpp", "vector", true},
      {"shape", "/x/modeler/shape/src/a.cpp", "own_helper.hpp", true},
      {"shape", "/x/modeler/shape/src/a.cpp", "tl/expected.hpp", true},
      {"shape", "/x/modeler/shape/include/shape/a.hpp", "CGAL/number_utils.h", false},
      {"shape", "/x/modeler/shape/src/a.cpp", "solids/solid.hpp", false},
      {"base", "/x/modeler/base/src/a.cpp", "shape/shape.hpp", false},
      {"shape", "/x/modeler/shape/src/a.cpp", "TopoDS_Shape.hxx", false},
      {"solids", "/x/modeler/solids/src/a.cpp", "TopoDS_Shape.hxx", true},
      {"solids", "/x/modeler/solids/include/solids/a.hpp", "TopoDS_Shape.hxx", false},
      {"app", "/x/exporters/app/src/a.cpp", "shape/shape.hpp", true},
      {"app", "/x/exporters/app/include/app/a.hpp", "shape/shape.hpp", false},
      {"app", "/x/exporters/app/src/a.cpp", "CGAL/number_utils.h", false},
      {"app", "/x/exporters/app/src/a.cpp", "boost/optional.hpp", false},
  }));
  CAPTURE(row.module, row.file, row.include);
  const Names allowed = allowed_in(modules, row.module, row.file);
  CHECK(objection(modules, allowed, row.include).empty() == row.fine);

  std::istringstream text("#include <a/b.h>\n // #include \"no.hpp\"\n  #  include \"c.hpp\"\n");
  const auto found = includes_in(text);
  REQUIRE(found.size() == 2);
  CHECK(found[0].path == "a/b.h");
  CHECK(found[1].path == "c.hpp");
  CHECK(found[1].line == 3);
}

TEST_CASE("data flows one way", "[architecture]") {
  const Modules modules = read_modules();
  for (const auto& [name, module] : modules) {
    CAPTURE(name);
    Names all = module.uses;
    all.insert(module.hides.begin(), module.hides.end());
    all = closure(modules, all);
    if (name != "solids_kernel") CHECK_FALSE(all.contains(name));  // no circles
    CHECK_FALSE(all.contains("app"));
    if (name != "step" && name != "app") CHECK_FALSE(module.hides.contains("solids_kernel"));
    CHECK_FALSE(module.uses.contains("solids_kernel"));
    if (!stands_in(module, "modeler")) continue;
    for (const std::string& used : all) {
      CAPTURE(used);
      if (modules.contains(used)) CHECK(stands_in(modules.at(used), "modeler"));
    }
  }
  CHECK(modules.at("base").uses == Names{"tl::expected"});
  CHECK(modules.at("base").hides.empty());
}
