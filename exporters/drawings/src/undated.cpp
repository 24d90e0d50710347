#include "drawings/undated.hpp"

#include "drawings/sheet.hpp"

namespace ribbay {

Drawing undated(Drawing drawing, const std::string& date) {
  const Rect block = title_area(drawing);
  std::erase_if(drawing.texts, [&](const InkText& text) {
    return text.text == date && inside(extent(text), block);
  });
  return drawing;
}

}  // namespace ribbay
