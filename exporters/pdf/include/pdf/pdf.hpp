#pragma once

#include "base/result.hpp"
#include "drawings/drawing.hpp"

#include <string>
#include <vector>

namespace ribbay {

/// One page: a drawing, which fills the paper and outlives the call.
struct PdfPage {
  std::string name;  ///< what findings call it: "drawings/010-rack.svg"
  const Drawing* drawing = nullptr;
};

/// What the document says about itself.
struct PdfFacts {
  std::string title;
  std::string date;  ///< ISO 8601, "2026-11-24"; empty: none is written, never the clock's
};

/// One PDF 1.5 document with a page for each entry, in order, at true size: 1 mm stays 1 mm. It shows
/// what svg() shows. Strokes stay strokes; texts are texts, in a font that the document brings: the
/// strokes of lettering.hpp, so that they are found, copied and look the same everywhere. Texts that
/// read upwards are strokes over white words. The bytes depend on the arguments and on the fonts of the
/// machine, which only those white words use.
///
/// Fails with "pdf.no_pages", "pdf.bad_size" (a side that is not above 0 and at most 5080 mm, the
/// largest a page of PDF 1.5 can have) and "pdf.not_made".
Result<std::string> pdf_document(const std::vector<PdfPage>& pages, const PdfFacts& facts);

}  // namespace ribbay
