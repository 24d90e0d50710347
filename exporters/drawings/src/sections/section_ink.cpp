#include "sections/section_ink.hpp"

#include <algorithm>
#include <iterator>

namespace ribbay::detail {

namespace {

void add_faces(Drawing& d, const Layout& layout, const Section& section, const ViewPlace& place) {
  const auto paper = [&](Vec2 p) { return Vec2{place.x.paper(p.x), place.y.paper(p.y)}; };
  for (const CutFace& face : section.faces) {
    if (face.narrow) {
      Outlines tone;
      for (const auto& loop : face.outlines) {
        tone.emplace_back();
        for (const Vec2 p : loop) tone.back().push_back(paper(p));
      }
      d.tones.push_back(std::move(tone));
      continue;
    }
    const int owner = static_cast<int>(d.owners.size());
    d.owners.push_back(layout.parts[face.part].id);
    for (const auto& [a, b] : hatch(face.outlines, section.spared, face.style))
      d.lines.push_back({paper(a), paper(b), kGroup35.thin(), owner, false, place.view});
  }
}

/// Bodies of some parts only.
Drawn only(const Drawn& drawn, const std::vector<bool>& wanted) {
  const auto is = [&](const auto& ink) { return wanted[static_cast<std::size_t>(ink.body)]; };
  Drawn out;
  std::ranges::copy_if(drawn.lines, std::back_inserter(out.lines), is);
  std::ranges::copy_if(drawn.arcs, std::back_inserter(out.arcs), is);
  return out;
}

}  // namespace

void add_section_ink(Drawing& d, const Layout& layout, const Section& section,
                     const ViewPlace& place) {
  add_faces(d, layout, section, place);
  std::vector<int> owners;
  std::vector<bool> made;
  for (const std::size_t part : section.part) {
    owners.push_back(static_cast<int>(d.owners.size()));
    d.owners.push_back(layout.parts[part].id);
    made.push_back(layout.parts[part].kind != PartKind::equipment);
  }
  add_view(d, only(section.drawn, made), place, kGroup35.visible(), kGroup35.hidden(), owners);
  made.flip();
  add_view(d, only(section.drawn, made), place, kGroup35.context(), kGroup35.context(), owners);
}

}  // namespace ribbay::detail
