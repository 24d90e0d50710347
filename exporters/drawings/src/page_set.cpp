#include "page_set.hpp"

#include "catalogue/titles.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

std::string upper(std::string text) {
  std::ranges::transform(text, text.begin(), [](char c) {
    return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
  });
  return text;
}

/// Lower-case letters and digits with '-' between: safe in any file system.
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

template <class Map>
const typename Map::mapped_type* entry(const Map& map, const std::string& key) {
  const auto found = map.find(key);
  return found == map.end() ? nullptr : &found->second;
}

}  // namespace

TitleBlock title_block(const PageSet& set) {
  const ProjectInfo& project = set.layout.project;
  TitleBlock block;
  block.owner = project.author;
  block.creator = project.author;
  block.date = project.date;
  block.status = set.not_for_cutting ? "Not for cutting" : "Issued";
  block.first_angle = project.first_angle;
  block.show = project.show;
  block.sheet = "1/1";
  return block;
}

std::string document_number(const PageSet& set, const std::string& suffix) {
  return upper(set.layout.project.name + "-" + suffix);
}

Drawing open_page(const PageSet& set, PageSize size, const TitleBlock& block) {
  Drawing d = new_page(size, block);
  if (set.not_for_cutting) add_stamp(d);
  return d;
}

Rect usable_area(const Drawing& drawing, bool stamped) {
  Rect area = drawing.frame;
  if (stamped) area.hi.y = drawing.reserved.back().lo.y;
  return area;
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
  return titles.empty() ? "as supplied" : join(titles, "; ");
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

std::string mass_text(double kg) {
  return rounded_text(kg, kg < 1.0 ? 3 : 2) + " kg";
}

SetPage page_of(int number, const std::string& name, const std::string& what, Drawing drawing) {
  std::string digits = std::to_string(number);
  if (digits.size() < 3) digits.insert(0, 3 - digits.size(), '0');
  return {"drawings/" + digits + "-" + file_name(name) + ".svg", what, std::move(drawing)};
}

Drawing undrawn_page(const PageSet& set, const TitleBlock& block) {
  Drawing d = open_page(set, PageSize::a4, block);
  const Rect title = title_area(d);
  add_fitted(d, "No legible drawing could be laid out. Use the model in model/.",
             {title.lo.x + 4.0, title.hi.y + 12.0}, 2.5, title.width() - 8.0);
  return d;
}

double smaller_scale(double scale, int steps) {
  for (; steps > 0; --steps) scale = scale_below(scale * 0.99);
  return scale;
}

}  // namespace ribbay::detail
