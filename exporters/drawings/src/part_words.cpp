#include "drawings/part_words.hpp"

#include "base/wording.hpp"
#include "catalogue/titles.hpp"

#include <algorithm>

namespace ribbay {

namespace {

template <class Map>
const typename Map::mapped_type* entry(const Map& map, const std::string& key) {
  const auto found = map.find(key);
  return found == map.end() ? nullptr : &found->second;
}

}  // namespace

std::string titles_of(const Layout& layout, const PartType& type) {
  std::vector<std::string> titles;
  for (const std::size_t i : type.parts) {
    const std::string& title = layout.parts[i].title;
    if (std::ranges::find(titles, title) == titles.end()) titles.push_back(title);
  }
  if (titles.size() == 2) {
    // "Drawer 1: side left, right": what both begin with is said once.
    const std::string& a = titles.front();
    const std::string& b = titles.back();
    const auto differ = std::ranges::mismatch(a, b).in1 - a.begin();
    const auto word = a.rfind(' ', static_cast<std::size_t>(differ));
    constexpr std::size_t worth = 6;  // letters
    if (word != std::string::npos && word < b.size() && word > worth)
      return a + ", " + b.substr(word + 1);
  }
  if (titles.size() <= 2) return join(titles, "; ");
  return say("and_more", {{"some", titles.front()}, {"count", std::to_string(titles.size() - 1)}});
}

std::string module_title(const Layout& layout, const std::string& name) {
  const Module* module = layout.module(name);
  return module && !module->title.empty() ? module->title : name;
}

std::string material_title(const Layout& layout, const std::string& key) {
  const Material* material = layout.catalogue ? entry(layout.catalogue->materials, key) : nullptr;
  return material && !material->title.empty() ? material->title : key;
}

std::string stock_title(const Layout& layout, const Part& part) {
  return layout.catalogue ? stock_title(*layout.catalogue, part.stock.key) : part.stock.key;
}

std::string finish_text(const Layout& layout, const Part& part) {
  std::vector<std::string> titles;
  for (const Covering& covering : part.coverings) {
    const std::string title =
        layout.catalogue ? stock_title(*layout.catalogue, covering.finish) : covering.finish;
    if (std::ranges::find(titles, title) == titles.end()) titles.push_back(title);
  }
  return titles.empty() ? say("finish.none") : join(titles, "; ");
}

std::string size_text(const Layout& layout, const Part& part) {
  const auto show = [&](double mm) { return length_text(mm, layout.project.show); };
  if (part.kind == PartKind::member) {
    const Vec3 s = bounds(*part.shape).size();
    return show(s.x) + " × " + show(s.y) + " × " + show(part.stock.length);
  }
  return show(part.stock.length) + " × " + show(part.stock.width) + " × " +
         show(part.stock.thickness);
}

bool has_edge_band(const Layout& layout, const Part& part) {
  return layout.catalogue && std::ranges::any_of(part.coverings, [&](const Covering& covering) {
           const Finish* finish = entry(layout.catalogue->finishes, covering.finish);
           return finish != nullptr && finish->kind == FinishKind::edge_band &&
                  !covering.edges.empty();
         });
}

std::string mass_text(double kg) {
  return say("mass", {{"mass", rounded_text(kg, kg < 1.0 ? 3 : 2)}});
}

std::string file_name(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9')) {
      out += c;
    } else if (c >= 'A' && c <= 'Z') {
      out += static_cast<char>(c - 'A' + 'a');
    } else if (!out.empty() && out.back() != '-') {
      out += '-';
    }
  }
  while (!out.empty() && out.back() == '-') out.pop_back();
  return out;
}

}  // namespace ribbay
