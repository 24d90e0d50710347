// The gaps that the drawing of the van's sides calls out, against the engine that measures bodies.
#include "base/text.hpp"
#include "clearance/near.hpp"
#include "layout/project.hpp"
#include "run.hpp"
#include "temporary_folder.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <regex>
#include <sstream>

using namespace ribbay;
namespace fs = std::filesystem;

namespace {

const std::string kMarsh = RIBBAY_SOURCE_DIR "/params/marsh/marsh.toml";

std::string bytes_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

/// A row of the drawing's table.
struct Row {
  double drawn = 0.0;
  double least = 0.0;
  std::string axis;
  std::string a;
  std::string b;
};

/// Rows by the name of the gap, and how often each name is written on the page.
struct GapSheet {
  std::map<std::string, Row> rows;
  std::map<std::string, int> named;
};

GapSheet read_sheet(const std::string& svg) {
  static const std::regex text(R"re(<text [^>]*y="([-0-9.]+)"[^>]*>([^<]*)</text>)re");
  std::vector<std::pair<std::string, std::string>> texts;  // y, words
  for (std::sregex_iterator it(svg.begin(), svg.end(), text), end; it != end; ++it)
    texts.emplace_back((*it)[1], (*it)[2]);
  GapSheet page;
  static const std::regex name("G[0-9]+");
  for (std::size_t i = 0; i < texts.size(); ++i) {
    if (!std::regex_match(texts[i].second, name)) continue;
    ++page.named[texts[i].second];
    if (i + 5 >= texts.size() || texts[i + 5].first != texts[i].first) continue;
    const auto field = [&](std::size_t n) { return texts[i + n].second; };
    page.rows[texts[i].second] = {std::stod(field(1)), std::stod(field(2)), field(3), field(4),
                                  field(5)};
  }
  return page;
}

/// What the sheet calls a body: a part that is made by its mark and module, another by its title, a body
/// of the van by its name.
std::string called(const Layout& layout, const std::string& id) {
  const Part* part = layout.find(id);
  if (part == nullptr) return id.starts_with("vehicle/") ? id.substr(8) : id;
  for (const PartType& type : part_types(layout)) {
    for (const std::size_t i : type.parts) {
      if (layout.parts[i].id == id) return type.mark + ", " + layout.module(part->module)->title;
    }
  }
  return part->title;
}

/// As it may be cut short in a narrow field.
bool is_name_of(const std::string& shown, const std::string& name) {
  const std::size_t cut = shown.find("…");
  return cut == std::string::npos ? shown == name : name.starts_with(shown.substr(0, cut));
}

}  // namespace

TEST_CASE("gaps called out on the sides of the van are as wide as the bodies are apart",
          "[app][drawings][gaps]") {
  const TemporaryFolder folder;
  const fs::path out = folder.path() / "out";
  REQUIRE(run({"build", kMarsh, "--only", "drawings,tables", "--out", out.string()}).code == 0);
  const GapSheet page = read_sheet(bytes_of(out / "drawings/003-sides.svg"));
  REQUIRE(page.rows.size() >= 12);

  const auto inputs = read_inputs(kMarsh);
  REQUIRE(inputs.value);
  const auto layout = lay_out(*inputs.value);
  REQUIRE(layout.value);
  const NearResult near = near_bodies(*layout.value, {.within = 12.0});
  const std::map<std::string, int> axes{{"x", 0}, {"y", 1}, {"z", 2}};
  std::size_t along_axis = 0;
  for (const auto& [name, row] : page.rows) {
    CAPTURE(name, row.a, row.b, row.axis);
    // In its table and at its place in one of the two views.
    CHECK(page.named.at(name) == 2);
    // Parts made alike share a mark: the narrowest such pair is the one called out.
    auto pair = near.pairs.end();
    for (auto p = near.pairs.begin(); p != near.pairs.end(); ++p) {
      const std::string a = called(*layout.value, p->a);
      const std::string b = called(*layout.value, p->b);
      const bool this_pair = (is_name_of(row.a, a) && is_name_of(row.b, b)) ||
                             (is_name_of(row.a, b) && is_name_of(row.b, a));
      if (this_pair && (pair == near.pairs.end() || p->distance < pair->distance)) pair = p;
    }
    REQUIRE(pair != near.pairs.end());
    const double along = std::abs(pair->way[axes.at(row.axis)]);
    // Printed to a tenth of a mm. Where the nearest way is askew, the gap along an axis is wider.
    constexpr double printed = 0.0501;
    CHECK(row.drawn > pair->distance - printed);
    if (along > 0.9999) {
      ++along_axis;
      CHECK(row.drawn == Approx(pair->distance).margin(printed));
    } else if (along > 0.5) {
      CHECK(row.drawn < pair->distance / along + 0.5);
    }
    CHECK(row.least < row.drawn);
  }
  CHECK(along_axis >= 6);

  // As many as shop/gaps.csv tells of these kinds, with the same figures in the same order.
  std::istringstream table(bytes_of(out / "shop/gaps.csv"));
  std::size_t number = 0;
  for (std::string line; std::getline(table, line);) {
    const auto fields = split(line, ',');
    if (fields[0] != "asked for" && fields[0] != "between modules" && fields[0] != "to the van")
      continue;
    const auto row = page.rows.find("G" + std::to_string(++number));
    CAPTURE(line);
    REQUIRE(row != page.rows.end());
    CHECK(row->second.drawn == Approx(std::stod(fields[5])).margin(0.0501));
    CHECK(row->second.least == Approx(std::stod(fields[8])).margin(0.0501));
    CHECK(is_name_of(row->second.a, called(*layout.value, fields[2])));
    CHECK(is_name_of(row->second.b, called(*layout.value, fields[3])));
  }
  CHECK(number == page.rows.size());
}
