// The drawings of the gallery through a general-purpose renderer and an XML parser that know
// nothing of us.
#include "temporary_folder.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

namespace fs = std::filesystem;

namespace {

std::string bytes_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

/// A big-endian 32-bit number at `at`: the width and height of a PNG stand at 16 and 20 (ISO/IEC
/// 15948, 11.2.2).
unsigned number_at(const std::string& bytes, std::size_t at) {
  unsigned value = 0;
  for (std::size_t i = 0; i < 4; ++i)
    value = value << 8U | static_cast<unsigned char>(bytes[at + i]);
  return value;
}

double attribute_mm(const std::string& svg, const std::string& name) {
  const std::size_t at = svg.find(" " + name + "=\"") + name.size() + 3;
  const std::size_t end = svg.find("mm\"", at);
  REQUIRE(end != std::string::npos);
  return std::stod(svg.substr(at, end - at));
}

}  // namespace

TEST_CASE("librsvg draws every sheet at its true size in mm", "[drawings][render]") {
  const ribbay::TemporaryFolder folder;
  int sheets = 0;
  for (const auto& entry :
       fs::directory_iterator(fs::path(RIBBAY_SOURCE_DIR) / "outputs/gallery")) {
    CAPTURE(entry.path());
    ++sheets;
    CHECK(std::system(("xmllint --noout '" + entry.path().string() + "'").c_str()) == 0);
    // 254 dots an inch are ten a millimetre.
    const fs::path png = folder.path() / "sheet.png";
    const std::string command = "rsvg-convert -d 254 -p 254 -b white '" + entry.path().string() +
                                "' -o '" + png.string() + "'";
    REQUIRE(std::system(command.c_str()) == 0);
    const std::string svg = bytes_of(entry.path());
    const std::string picture = bytes_of(png);
    REQUIRE(picture.size() > 10'000);  // something is drawn
    CHECK(number_at(picture, 16) == std::lround(attribute_mm(svg, "width") * 10));
    CHECK(number_at(picture, 20) == std::lround(attribute_mm(svg, "height") * 10));
    // One user unit is one millimetre.
    const std::string box = "viewBox=\"0 0 ";
    CHECK(std::stod(svg.substr(svg.find(box) + box.size())) == Approx(attribute_mm(svg, "width")));
  }
  CHECK(sheets == 5);
}
