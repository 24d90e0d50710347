#pragma once

#include <cairo.h>

#include <memory>

/// Owners of what the library hands out.
namespace ribbay::detail {

template <auto release>
struct Release {
  template <class T>
  void operator()(T* object) const {
    release(object);
  }
};
using Surface = std::unique_ptr<cairo_surface_t, Release<cairo_surface_destroy>>;
using Context = std::unique_ptr<cairo_t, Release<cairo_destroy>>;
using FontFace = std::unique_ptr<cairo_font_face_t, Release<cairo_font_face_destroy>>;

}  // namespace ribbay::detail
