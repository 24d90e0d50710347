#include "drawings/words.hpp"
#include "pdf/pdf.hpp"

#include <utility>

namespace ribbay {

PdfPage pdf_page(std::string name, std::string svg, const Drawing& drawing) {
  PdfPage page{std::move(name), std::move(svg), drawing.width, drawing.height};
  for (const InkText& text : drawing.texts) {
    const Vec2 start = start_of(text);
    page.words.push_back(
        {text.text, start.x, drawing.height - start.y, font_size(text), text.turned});
  }
  return page;
}

}  // namespace ribbay
