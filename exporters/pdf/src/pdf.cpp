#include "pdf/pdf.hpp"

#include <cairo-pdf.h>
#include <cairo.h>
#include <librsvg/rsvg.h>

#include <exception>
#include <memory>
#include <numbers>
#include <optional>
#include <string>
#include <utility>

namespace ribbay {

namespace {

/// PDF counts in points, 72 to the inch.
constexpr double kPoints = 72.0 / 25.4;

/// 14400 points, the largest side of a page: ISO 32000-1 annex C (from memory).
constexpr double kLargestSide = 14400.0 / kPoints;

/// The page's own words take the place of those that the SVG holds for search alone: an SVG sets
/// each one afresh, which takes as long as all the strokes.
constexpr char kNoHiddenWords[] = "[fill-opacity=\"0\"] text { display: none }";

template <auto release>
struct Release {
  template <class T>
  void operator()(T* object) const {
    release(object);
  }
};
using Handle = std::unique_ptr<RsvgHandle, Release<g_object_unref>>;
using Surface = std::unique_ptr<cairo_surface_t, Release<cairo_surface_destroy>>;
using Context = std::unique_ptr<cairo_t, Release<cairo_destroy>>;

Finding fault(std::string code, const std::string& subject, std::string why = {}) {
  Finding finding;
  finding.code = std::move(code);
  finding.subjects.push_back(subject);
  if (!why.empty()) finding.with("why", std::move(why));
  return finding;
}

/// The message of a library error, which is then let go.
std::string words(GError* error) {
  if (error == nullptr) return "unknown";
  std::string text = error->message;
  g_error_free(error);
  return text;
}

const unsigned char* bytes_of(const char* text) {
  return reinterpret_cast<const unsigned char*>(text);
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
    GError* error = nullptr;
    const Handle svg(rsvg_handle_new_from_data(bytes_of(page.svg.data()), page.svg.size(), &error));
    if (!svg) return fault("pdf.bad_svg", page.name, words(error));
    if (rsvg_handle_set_stylesheet(svg.get(), bytes_of(kNoHiddenWords), sizeof kNoHiddenWords - 1,
                                   &error) == 0) {
      return fault("pdf.not_made", page.name, words(error));
    }
    const RsvgRectangle paper{0.0, 0.0, page.width * kPoints, page.height * kPoints};
    cairo_pdf_surface_set_size(surface_.get(), paper.width, paper.height);
    for (const PdfWords& words : page.words) lay(words);
    if (rsvg_handle_render_document(svg.get(), context_.get(), &paper, &error) == 0)
      return fault("pdf.bad_svg", page.name, words(error));
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

  /// White, and the drawing comes over them: they are found and not seen.
  void lay(const PdfWords& words) {
    cairo_t* to = context_.get();
    cairo_save(to);
    cairo_set_source_rgb(to, 1.0, 1.0, 1.0);
    cairo_select_font_face(to, "monospace", CAIRO_FONT_SLANT_NORMAL, CAIRO_FONT_WEIGHT_NORMAL);
    cairo_set_font_size(to, words.size * kPoints);
    cairo_move_to(to, words.x * kPoints, words.y * kPoints);
    if (words.upward) cairo_rotate(to, -std::numbers::pi / 2.0);
    cairo_show_text(to, words.text.c_str());
    cairo_restore(to);
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
};

}  // namespace

Result<std::string> pdf_document(const std::vector<PdfPage>& pages, const PdfFacts& facts) {
  if (pages.empty()) return fail(fault("pdf.no_pages", facts.title));
  Findings findings;
  for (const PdfPage& page : pages) {
    if (good_side(page.width) && good_side(page.height)) continue;
    findings.push_back(fault("pdf.bad_size", page.name)
                           .with("width", page.width, Unit::mm)
                           .with("height", page.height, Unit::mm)
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
