// The ink of letters and the ink of lines, each drawn alone by a renderer that knows nothing of us,
// may share no pixel.
#include "drawings/drawing.hpp"
#include "drawings/sheet.hpp"
#include "drawn_projects.hpp"

#include <cairo.h>
#include <catch2/catch.hpp>
#include <librsvg/rsvg.h>

#include <algorithm>
#include <cmath>

using namespace ribbay;

namespace {

constexpr double kDots = 6.0;  // a millimetre: the thinnest line, 0.18 mm, is a dot wide

/// How dark each dot of a page is, 0 to 255.
struct Ink {
  int width = 0;
  int height = 0;
  std::vector<unsigned char> dark;
};

Ink rendered(const Drawing& drawing) {
  Ink ink{static_cast<int>(std::lround(drawing.width * kDots)),
          static_cast<int>(std::lround(drawing.height * kDots)),
          {}};
  const std::string file = svg(drawing);
  RsvgHandle* handle = rsvg_handle_new_from_data(
      reinterpret_cast<const unsigned char*>(file.data()), file.size(), nullptr);
  REQUIRE(handle != nullptr);
  cairo_surface_t* surface =
      cairo_image_surface_create(CAIRO_FORMAT_RGB24, ink.width, ink.height);
  cairo_t* to = cairo_create(surface);
  const RsvgRectangle paper{0, 0, static_cast<double>(ink.width), static_cast<double>(ink.height)};
  REQUIRE(rsvg_handle_render_document(handle, to, &paper, nullptr) != 0);
  cairo_surface_flush(surface);
  const unsigned char* bytes = cairo_image_surface_get_data(surface);
  const int stride = cairo_image_surface_get_stride(surface);
  ink.dark.reserve(static_cast<std::size_t>(ink.width) * static_cast<std::size_t>(ink.height));
  for (int y = 0; y < ink.height; ++y) {
    for (int x = 0; x < ink.width; ++x)
      ink.dark.push_back(static_cast<unsigned char>(255 - bytes[y * stride + 4 * x + 1]));
  }
  cairo_destroy(to);
  cairo_surface_destroy(surface);
  g_object_unref(handle);
  return ink;
}

/// Dots that letters and lines both cover by more than the soft edge of a stroke.
std::size_t shared_dots(const Drawing& drawing) {
  Drawing letters = drawing;
  letters.lines.clear();
  letters.arcs.clear();
  letters.fills.clear();
  letters.tones.clear();
  Drawing lines = drawing;
  lines.texts.clear();
  const Ink a = rendered(letters);
  const Ink b = rendered(lines);
  REQUIRE(a.dark.size() == b.dark.size());
  std::size_t inked = 0;
  std::size_t shared = 0;
  std::string first;
  for (std::size_t i = 0; i < a.dark.size(); ++i) {
    inked += a.dark[i] > 96 ? 1 : 0;
    if (a.dark[i] <= 48 || b.dark[i] <= 48) continue;
    if (++shared > 1) continue;
    const auto width = static_cast<std::size_t>(a.width);
    const Vec2 at{(static_cast<double>(i % width) + 0.5) / kDots,
                  drawing.height - (static_cast<double>(i / width) + 0.5) / kDots};
    const auto text = std::ranges::find_if(
        drawing.texts, [&](const InkText& t) { return inside({at, at}, grown(extent(t), 0.5)); });
    first = "first at " + std::to_string(at.x) + ", " + std::to_string(at.y) + ", text: " +
            (text == drawing.texts.end() ? "none" : text->text);
  }
  REQUIRE(inked > 500);  // there are letters
  if (shared > 0) UNSCOPED_INFO(first);
  return shared;
}

}  // namespace

TEST_CASE("letters and lines share no dot of a rendered sheet", "[drawings][render][projects]") {
  // All sheets but those of parts, and every sixth of these: the rest differs by sizes alone.
  int sheets = 0;
  for (const projects::Drawn& project : projects::all()) {
    int parts = 0;
    for (const SetPage& page : project.pages) {
      if (page.what.starts_with("part drawing") && parts++ % 6 != 0) continue;
      CAPTURE(project.file, page.path);
      ++sheets;
      CHECK(shared_dots(page.drawing) == 0);
    }
  }
  CHECK(sheets > 60);
}

TEST_CASE("the dots of a line through a text are seen", "[drawings][render]") {
  TitleBlock block;
  block.number = "T-1";
  block.title = "Planted";
  Drawing d = new_page(PageSize::a4, block);
  CHECK(shared_dots(d) == 0);
  add_text(d, "482.6", {100, 200}, 3.5);
  CHECK(shared_dots(d) == 0);
  add_line(d, {95, 201.7}, {115, 201.7}, kGroup35.thin());
  CHECK(shared_dots(d) > 3);
}
