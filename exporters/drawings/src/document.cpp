#include "drawings/document.hpp"

#include "base/wording.hpp"

#include <algorithm>

namespace ribbay {

namespace {

std::string upper(std::string text) {
  std::ranges::transform(text, text.begin(), [](char c) {
    return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
  });
  return text;
}

}  // namespace

TitleBlock title_block(const Layout& layout, bool not_for_cutting) {
  const ProjectInfo& project = layout.project;
  TitleBlock block;
  block.owner = project.author;
  block.creator = project.author;
  block.date = project.date;
  block.status = say(not_for_cutting ? "status.not_for_cutting" : "status.issued");
  block.first_angle = project.first_angle;
  block.show = project.show;
  block.sheet = "1/1";
  return block;
}

std::string document_number(const Layout& layout, const std::string& suffix) {
  return upper(layout.project.name + "-" + suffix);
}

}  // namespace ribbay
