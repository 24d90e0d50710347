#pragma once

namespace ribbay {

/// What an ordinary printer takes.
enum class Paper { a4, a3, letter };

/// Size of the upright sheet, mm.
struct PaperSize {
  const char* name;
  double width;
  double height;
};

/// A4 and A3 of ISO 216; Letter of ANSI/ASME Y14.1, 8.5 x 11 in (all from memory).
constexpr PaperSize size_of(Paper paper) {
  switch (paper) {
    case Paper::a4:
      return {"A4", 210.0, 297.0};
    case Paper::a3:
      return {"A3", 297.0, 420.0};
    case Paper::letter:
      break;
  }
  return {"Letter", 215.9, 279.4};
}

}  // namespace ribbay
