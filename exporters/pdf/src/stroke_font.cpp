#include "stroke_font.hpp"

#include "paths.hpp"

#include <exception>

namespace ribbay::detail {

namespace {

cairo_status_t init(cairo_scaled_font_t* /*font*/, cairo_t* /*to*/, cairo_font_extents_t* extents) {
  extents->ascent = 1.3;  // accents over capitals
  extents->descent = 0.3;
  extents->height = 1.6;
  return CAIRO_STATUS_SUCCESS;
}

cairo_status_t number_of(cairo_scaled_font_t* /*font*/, unsigned long character,
                         unsigned long* glyph) {
  *glyph = character;
  return CAIRO_STATUS_SUCCESS;
}

cairo_status_t render(cairo_scaled_font_t* /*font*/, unsigned long glyph, cairo_t* to,
                      cairo_text_extents_t* extents) {
  try {
    const PenLetter letter = pen_letter(static_cast<char32_t>(glyph));
    extents->x_advance = letter.advance;
    cairo_set_line_width(to, text_pen(1.0));
    cairo_set_line_cap(to, CAIRO_LINE_CAP_ROUND);
    cairo_set_line_join(to, CAIRO_LINE_JOIN_ROUND);
    for (const PenStroke& stroke : letter.strokes) add_stroke(to, stroke);
    cairo_stroke(to);
  } catch (const std::exception&) {  // must not cross the library, which is C
    return CAIRO_STATUS_NO_MEMORY;
  }
  return CAIRO_STATUS_SUCCESS;
}

}  // namespace

FontFace stroke_font() {
  FontFace face(cairo_user_font_face_create());
  cairo_user_font_face_set_init_func(face.get(), init);
  cairo_user_font_face_set_unicode_to_glyph_func(face.get(), number_of);
  cairo_user_font_face_set_render_glyph_func(face.get(), render);
  return face;
}

}  // namespace ribbay::detail
