#pragma once

#include "base/result.hpp"
#include "drawings/drawing.hpp"

#include <string>
#include <vector>

namespace ribbay {

/// Words of a page to be found by search.
struct PdfWords {
  std::string text;
  double x = 0.0;  ///< start of the baseline from the left and the upper edge of the paper, mm
  double y = 0.0;
  double size = 0.0;    ///< of the font, mm
  bool upward = false;  ///< reads upward; else to the right
};

/// One page: a drawing as SVG, and the size of the paper it fills, mm.
struct PdfPage {
  std::string name;  ///< what findings call it: "drawings/010-rack.svg"
  std::string svg;
  double width = 0.0;
  double height = 0.0;
  std::vector<PdfWords> words{};
};

/// The page of a drawing whose SVG is `svg`.
PdfPage pdf_page(std::string name, std::string svg, const Drawing& drawing);

/// What the document says about itself.
struct PdfFacts {
  std::string title;
  std::string date;  ///< ISO 8601, "2026-11-24"; empty: none is written, never the clock's
};

/// One PDF 1.5 document with a page for each entry, in order, at true size: 1 mm stays 1 mm.
/// Strokes stay strokes. The words of a page are laid in white under its drawing, for search and
/// copying; those that the SVG holds for search alone (fill-opacity 0) are left out. The bytes
/// depend on the arguments and on the fonts of the machine, which only the laid-under words use.
///
/// Fails with "pdf.no_pages", "pdf.bad_size" (a side that is not above 0 and at most 5080 mm, the
/// largest a page of PDF 1.5 can have), "pdf.bad_svg" and "pdf.not_made".
Result<std::string> pdf_document(const std::vector<PdfPage>& pages, const PdfFacts& facts);

}  // namespace ribbay
