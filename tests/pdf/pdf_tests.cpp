// The document as poppler sees it, which shares no code with what wrote it.
#include "projects.hpp"
#include "drawings/drawings.hpp"
#include "drawings/sheet.hpp"
#include "pdf/pdf.hpp"
#include "said_by.hpp"
#include "temporary_folder.hpp"

#include <cairo.h>
#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <limits>

namespace fs = std::filesystem;
using namespace ribbay;
using namespace ribbay::testing;

namespace {

fs::path write(const fs::path& path, const std::string& bytes) {
  std::ofstream(path, std::ios::binary) << bytes;
  return path;
}

/// Texts of both directions, in a colour and with letters beyond ASCII, each line type, arcs, tones.
Drawing part_page() {
  TitleBlock block;
  block.number = "T-1";
  block.title = "Sill";
  Drawing page = new_page(PageSize::a4, block);
  add_text(page, "Chalk a centre line", {40, 200}, 5.0);
  add_text(page, "read upwards", {30, 100}, 3.5, Align::left, true);
  add_text(page, "30° × 2 – Ø 8 & größer < 1", {40, 185}, 3.5);
  page.texts.back().colour = "#c00000";
  double y = 150.0;
  for (const Pen pen : {kGroup50.visible(), kGroup50.hidden(), kGroup50.centre(), kGroup50.context()}) {
    add_line(page, {50, y}, {150, y}, pen);
    page.arcs.push_back({{60, y - 45.0}, {12, 6}, {-3, 6}, 0.4, 5.0, pen});
    y += 7.0;
  }
  add_circle(page, {120, 110}, 20.0, kGroup35.visible());
  add_arrow(page, {150, 110}, {1, 0});
  page.tones.push_back({{{150, 60}, {180, 60}, {180, 90}, {150, 90}}, {{160, 70}, {160, 80}, {170, 80}, {170, 70}}});
  return page;
}

/// Every ninth page of the demo's set: plan, assemblies, sections, parts.
const std::vector<Drawing>& demo_pages() {
  static const std::vector<Drawing> pages = [] {
    std::vector<Drawing> some;
    const std::vector<SetPage> all = drawing_set(demo(), {});
    for (std::size_t i = 0; i < all.size(); i += 9) some.push_back(all[i].drawing);
    return some;
  }();
  return pages;
}

std::vector<PdfPage> pages_of(const std::vector<Drawing>& drawings) {
  std::vector<PdfPage> pages;
  for (const Drawing& drawing : drawings) pages.push_back({"page", &drawing});
  return pages;
}

std::vector<Drawing> all_pages() {
  std::vector<Drawing> drawings = demo_pages();
  drawings.insert(drawings.begin(), part_page());
  return drawings;
}

/// A picture in shades of grey.
struct Picture {
  int width = 0;
  int height = 0;
  std::vector<unsigned char> grey;
  int at(int x, int y) const { return grey[static_cast<std::size_t>(y * width + x)]; }
  /// Darkest and lightest shade within one pixel.
  std::pair<int, int> near(int x, int y) const {
    int lo = 255;
    int hi = 0;
    for (int j = std::max(y - 1, 0); j <= std::min(y + 1, height - 1); ++j) {
      for (int i = std::max(x - 1, 0); i <= std::min(x + 1, width - 1); ++i) {
        lo = std::min(lo, at(i, j));
        hi = std::max(hi, at(i, j));
      }
    }
    return {lo, hi};
  }
};

Picture read_png(const fs::path& path) {
  cairo_surface_t* surface = cairo_image_surface_create_from_png(path.c_str());
  REQUIRE(cairo_surface_status(surface) == CAIRO_STATUS_SUCCESS);
  Picture picture{
      cairo_image_surface_get_width(surface), cairo_image_surface_get_height(surface), {}};
  const unsigned char* bytes = cairo_image_surface_get_data(surface);
  const int stride = cairo_image_surface_get_stride(surface);
  for (int y = 0; y < picture.height; ++y) {
    for (int x = 0; x < picture.width; ++x)
      picture.grey.push_back(bytes[y * stride + 4 * x + 1]);  // green stands for all
  }
  cairo_surface_destroy(surface);
  return picture;
}

/// Share of the inked pixels of either picture with no ink within one pixel in the other.
double difference(const Picture& a, const Picture& b) {
  REQUIRE(std::abs(a.width - b.width) <= 1);
  REQUIRE(std::abs(a.height - b.height) <= 1);
  int ink = 0;
  int alone = 0;
  for (int y = 0; y < std::min(a.height, b.height); ++y) {
    for (int x = 0; x < std::min(a.width, b.width); ++x) {
      for (const auto& [here, there] : {std::pair{&a, &b}, std::pair{&b, &a}}) {
        if (here->at(x, y) >= 100) continue;
        ++ink;
        if (there->near(x, y).first > 180) ++alone;
      }
    }
  }
  REQUIRE(ink > 1000);
  return static_cast<double>(alone) / ink;
}

Picture pdf_picture(const fs::path& folder, const fs::path& pdf, int page) {
  const std::string number = std::to_string(page);
  said_by("pdftoppm -png -singlefile -r 254 -f " + number + " -l " + number + " " + pdf.string() +
          " " + (folder / ("pdf" + number)).string());
  return read_png(folder / ("pdf" + number + ".png"));
}

Picture svg_picture(const fs::path& folder, const Drawing& page) {
  const fs::path file = write(folder / "page.svg", svg(page));
  said_by("rsvg-convert -d 254 -p 254 -b white -o " + (folder / "svg.png").string() + " " +
          file.string());
  return read_png(folder / "svg.png");
}

}  // namespace

TEST_CASE("a document has each page at its true size, in order", "[pdf]") {
  const TemporaryFolder folder;
  const std::vector<Drawing> drawings{part_page(), new_page(PageSize::a3, {})};
  const auto pdf = pdf_document(pages_of(drawings), {"Marsh drawings", "2026-11-24"});
  REQUIRE(pdf);
  const fs::path file = write(folder.path() / "set.pdf", *pdf);
  // Columns differ between versions; one space between words is enough.
  const std::string facts =
      said_by("pdfinfo -isodates -f 1 -l 9 " + file.string() + " | tr -s ' '");
  CAPTURE(facts);
  CHECK(facts.find("Title: Marsh drawings\n") != std::string::npos);
  CHECK(facts.find("CreationDate: 2026-11-24T00:00:00Z\n") != std::string::npos);
  CHECK(facts.find("Pages: 2\n") != std::string::npos);
  CHECK(facts.find("PDF version: 1.5\n") != std::string::npos);
  // ISO 216: A4 is 210 x 297, A3 420 x 297 mm; 72 points an inch.
  CHECK(facts.find("Page 1 size: 595.276 x 841.89 pts (A4)") != std::string::npos);
  CHECK(facts.find("Page 2 size: 1190.55 x 841.89 pts (A3)") != std::string::npos);
}

TEST_CASE("a square of 100 mm is 100 mm on the printed page", "[pdf]") {
  const TemporaryFolder folder;
  Drawing page = new_page(PageSize::a4, {});
  add_rect(page, {{60, 120}, {160, 220}}, {LineType::continuous, 0.5});
  const auto pdf = pdf_document({{"square", &page}}, {"T", ""});
  REQUIRE(pdf);
  // Poppler's own renderer moves strokes to whole dots; this one does not.
  said_by("pdftocairo -png -singlefile -r 254 " + write(folder.path() / "a.pdf", *pdf).string() +
          " " + (folder.path() / "a").string());
  const Picture drawn = read_png(folder.path() / "a.png");
  // Ten dots a millimetre: the middle of each side of the square, by the darkness about it.
  const auto side = [&](double mm, bool across) {
    double sum = 0.0;
    double dark = 0.0;
    for (int i = -6; i <= 6; ++i) {
      const int at = static_cast<int>(std::lround(mm * 10)) + i;
      const int half = static_cast<int>(across ? (297 - 170) * 10 : 110 * 10);
      const double ink = 255 - (across ? drawn.at(at, half) : drawn.at(half, at));
      sum += ink * (at + 0.5);
      dark += ink;
    }
    REQUIRE(dark > 255);
    return sum / dark / 10;
  };
  CHECK(side(160, true) - side(60, true) == Approx(100).margin(0.02));
  CHECK(side(297 - 120, false) - side(297 - 220, false) == Approx(100).margin(0.02));
  CHECK(side(60, true) == Approx(60).margin(0.05));
}

TEST_CASE("the document is sound and brings its fonts", "[pdf]") {
  const TemporaryFolder folder;
  const std::vector<Drawing> drawings = all_pages();
  const auto pdf = pdf_document(pages_of(drawings), {"T", "2026-11-24"});
  REQUIRE(pdf);
  const fs::path file = write(folder.path() / "set.pdf", *pdf);
  const std::string checked = said_by("qpdf --check " + file.string() + " 2>&1");
  CAPTURE(checked);
  CHECK(checked.find("No syntax or stream encoding errors found") != std::string::npos);
  CHECK(checked.find("WARNING") == std::string::npos);
  // Two lines of heading, then one for each font: name, type, encoding, emb, sub, uni, object.
  const std::string fonts = said_by("pdffonts " + file.string() + " | tail -n +3");
  CAPTURE(fonts);
  CHECK(std::ranges::count(fonts, '\n') >= 1);
  // Embedded, and with what its codes mean; letters made of strokes are no subset of anything.
  const std::string missing = said_by("pdffonts " + file.string() +
                                      " | tail -n +3 | awk '$(NF-4) != \"yes\" || $(NF-2) != \"yes\"'");
  CHECK(missing.empty());
}

TEST_CASE("words of a page can be searched for where they stand", "[pdf]") {
  const TemporaryFolder folder;
  const Drawing page = part_page();
  const auto pdf = pdf_document({{"page", &page}}, {"T", ""});
  REQUIRE(pdf);
  const fs::path file = write(folder.path() / "set.pdf", *pdf);
  const std::string text = said_by("pdftotext " + file.string() + " -");
  CAPTURE(text);
  CHECK(text.find("Chalk a centre line") != std::string::npos);
  CHECK(text.find("read upwards") != std::string::npos);
  // Boxes in points from the upper left corner: the baseline is 200 mm above the lower edge.
  const std::string boxes = said_by("pdftotext -bbox " + file.string() + " -");
  const std::size_t word = boxes.find(">Chalk<");
  REQUIRE(word != std::string::npos);
  double x = 0.0;
  double top = 0.0;
  double right = 0.0;
  double foot = 0.0;
  REQUIRE(std::sscanf(boxes.c_str() + boxes.rfind("<word", word),
                      R"(<word xMin="%lf" yMin="%lf" xMax="%lf" yMax="%lf")", &x, &top, &right,
                      &foot) == 4);
  CHECK(x * 25.4 / 72 == Approx(40).margin(1.0));
  CHECK(top * 25.4 / 72 < 297 - 200 - 3.0);
  CHECK(foot * 25.4 / 72 == Approx(297 - 200).margin(3.0));
}

TEST_CASE("a page of the document looks like its SVG", "[pdf]") {
  const TemporaryFolder folder;
  const std::vector<Drawing> drawings = all_pages();
  REQUIRE(drawings.size() > 5);
  const auto pdf = pdf_document(pages_of(drawings), {"T", ""});
  REQUIRE(pdf);
  const fs::path file = write(folder.path() / "set.pdf", *pdf);
  std::vector<Picture> drawn;
  for (std::size_t i = 0; i < drawings.size(); ++i) {
    CAPTURE(drawings[i].number);
    drawn.push_back(pdf_picture(folder.path(), file, static_cast<int>(i) + 1));
    CHECK(difference(drawn.back(), svg_picture(folder.path(), drawings[i])) < 0.001);
  }
  // The measure sees another drawing.
  CHECK(difference(drawn[1], drawn[2]) > 0.2);
}

TEST_CASE("strokes stay strokes, and no clock is read", "[pdf]") {
  const Drawing page = part_page();
  const auto pdf = pdf_document({{"page", &page}}, {"T", ""});
  REQUIRE(pdf);
  CHECK(pdf->find("/Subtype /Image") == std::string::npos);
  CHECK(pdf->find("CreationDate") == std::string::npos);
  CHECK(pdf->find("ModDate") == std::string::npos);
  const TemporaryFolder folder;
  CHECK(said_by("pdfimages -list " + write(folder.path() / "a.pdf", *pdf).string()).find("image") ==
        std::string::npos);
}

TEST_CASE("the same pages give the same bytes", "[pdf]") {
  const std::vector<Drawing> drawings = all_pages();
  const std::vector<PdfPage> pages = pages_of(drawings);
  const auto once = pdf_document(pages, {"T", "2026-11-24"});
  const auto again = pdf_document(pages, {"T", "2026-11-24"});
  REQUIRE(once);
  REQUIRE(again);
  CHECK(*once == *again);
}

TEST_CASE("what cannot become a page is named, all of it at once", "[pdf]") {
  Drawing flat = part_page();
  flat.height = 0.0;
  Drawing endless = part_page();
  endless.width = std::numeric_limits<double>::quiet_NaN();
  const Drawing sound = part_page();
  const auto sizes =
      pdf_document({{"flat", &flat}, {"sound", &sound}, {"endless", &endless}}, {"T", ""});
  REQUIRE_FALSE(sizes);
  REQUIRE(sizes.error().size() == 2);
  CHECK(sizes.error()[0].code == "pdf.bad_size");
  CHECK(sizes.error()[0].subjects[0] == "flat");

  Drawing garbled = part_page();
  garbled.texts.front().text = "\xff\xfe";
  const auto broken = pdf_document({{"garbled", &garbled}}, {"T", ""});
  REQUIRE_FALSE(broken);
  CHECK(broken.error()[0].code == "pdf.not_made");
  CHECK(broken.error()[0].subjects[0] == "garbled");
  CHECK(broken.error()[0].argument("why") != nullptr);

  const auto empty = pdf_document({}, {"T", ""});
  REQUIRE_FALSE(empty);
  CHECK(empty.error()[0].code == "pdf.no_pages");
}
