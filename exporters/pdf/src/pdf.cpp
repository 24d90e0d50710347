#include "pdf/pdf.hpp"

#include "handles.hpp"
#include "page_ink.hpp"
#include "stroke_font.hpp"

#include <cairo-pdf.h>

#include <exception>
#include <optional>
#include <string>
#include <utility>

namespace ribbay {

namespace {

using namespace detail;

/// PDF counts in points, 72 to the inch.
constexpr double kPoints = 72.0 / 25.4;

/// 14400 points, the largest side of a page: ISO 32000-1 annex C (from memory).
constexpr double kLargestSide = 14400.0 / kPoints;

Finding fault(std::string code, const std::string& subject, std::string why = {}) {
  Finding finding;
  finding.code = std::move(code);
  finding.subjects.push_back(subject);
  if (!why.empty()) finding.with("why", std::move(why));
  return finding;
}

bool good_side(double mm) {
  return mm > 0.0 && mm <= kLargestSide;  // false for what is no number
}

/// The document while it grows. Its target is memory, so nothing but memory can fail.
class Document {
 public:
  explicit Document(const PdfFacts& facts)
      : surface_(cairo_pdf_surface_create_for_stream(&Document::append, &bytes_, 1.0, 1.0)),
        context_(cairo_create(surface_.get())) {
    cairo_pdf_surface_restrict_to_version(surface_.get(), CAIRO_PDF_VERSION_1_5);
    say(CAIRO_PDF_METADATA_TITLE, facts.title);
    say(CAIRO_PDF_METADATA_CREATOR, "ribbay");
    // An empty date takes away the one that the library reads from the clock.
    say(CAIRO_PDF_METADATA_CREATE_DATE,
        facts.date.empty() ? facts.date : facts.date + "T00:00:00Z");
  }

  /// Nullopt, or why the page could not be drawn.
  std::optional<Finding> add(const PdfPage& page) {
    const Drawing& drawing = *page.drawing;
    cairo_pdf_surface_set_size(surface_.get(), drawing.width * kPoints, drawing.height * kPoints);
    cairo_save(context_.get());
    cairo_scale(context_.get(), kPoints, kPoints);
    ink_page(context_.get(), drawing, letters_.get());
    cairo_restore(context_.get());
    cairo_show_page(context_.get());
    return trouble(page.name);
  }

  /// Closes the document; its bytes, or why there are none.
  Result<std::string> finish(const std::string& title) {
    cairo_surface_finish(surface_.get());
    if (auto finding = trouble(title)) return fail(std::move(*finding));
    return std::move(bytes_);
  }

 private:
  static cairo_status_t append(void* to, const unsigned char* bytes, unsigned int count) {
    try {
      static_cast<std::string*>(to)->append(reinterpret_cast<const char*>(bytes), count);
    } catch (const std::exception&) {  // must not cross the library, which is C
      return CAIRO_STATUS_NO_MEMORY;
    }
    return CAIRO_STATUS_SUCCESS;
  }

  void say(cairo_pdf_metadata_t what, const std::string& text) {
    cairo_pdf_surface_set_metadata(surface_.get(), what, text.c_str());
  }

  std::optional<Finding> trouble(const std::string& subject) const {
    for (const cairo_status_t status :
         {cairo_status(context_.get()), cairo_surface_status(surface_.get())}) {
      if (status != CAIRO_STATUS_SUCCESS)
        return fault("pdf.not_made", subject, cairo_status_to_string(status));
    }
    return std::nullopt;
  }

  std::string bytes_;
  Surface surface_;
  Context context_;
  FontFace letters_ = stroke_font();
};

}  // namespace

Result<std::string> pdf_document(const std::vector<PdfPage>& pages, const PdfFacts& facts) {
  if (pages.empty()) return fail(fault("pdf.no_pages", facts.title));
  Findings findings;
  for (const PdfPage& page : pages) {
    if (good_side(page.drawing->width) && good_side(page.drawing->height)) continue;
    findings.push_back(fault("pdf.bad_size", page.name)
                           .with("width", page.drawing->width, Unit::mm)
                           .with("height", page.drawing->height, Unit::mm)
                           .with("largest", kLargestSide, Unit::mm));
  }
  if (!findings.empty()) return fail(std::move(findings));
  Document document(facts);
  for (const PdfPage& page : pages) {
    if (auto finding = document.add(page)) findings.push_back(std::move(*finding));
  }
  if (!findings.empty()) return fail(std::move(findings));
  return document.finish(facts.title);
}

}  // namespace ribbay
