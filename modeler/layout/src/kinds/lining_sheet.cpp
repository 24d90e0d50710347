#include "lining_sheet.hpp"

namespace ribbay::detail {

namespace {

/// Applies `map` to every point of a flat's work.
template <class Map>
void map_points(Flat& flat, Map map) {
  for (Corner& corner : flat.outline.outer) corner.at = map(corner.at);
  for (Cut& cut : flat.cuts) {
    for (Corner& corner : cut.outline) corner.at = map(corner.at);
  }
  for (Bore& bore : flat.bores) {
    const Vec2 at = map({bore.at.x, bore.at.y});
    bore.at = {at.x, at.y, bore.at.z};
  }
}

}  // namespace

FoldedSheet enlarged(const FoldedSheet& chain, const Allowance& by) {
  FoldedSheet result = chain;
  const std::size_t last = chain.flats.size() - 1;
  for (std::size_t i = 0; i <= last; ++i) {
    Flat& flat = result.flats[i];
    const double before = i == 0 ? by.start : 0.0;
    const Vec2 shift{by.left, before};
    map_points(flat, [&](Vec2 p) { return p + shift; });
    const Vec2 old = chain.flats[i].outline.outer[2].at;
    const Vec2 far = old + Vec2{by.left + by.right, before + (i == last ? by.end : 0.0)};
    flat.outline.outer = rectangle({0, 0}, far);
    if (i == 0) continue;
    const double line = flat.a.y + (i == 1 ? by.start : 0.0);
    flat.a = {0, line};
    flat.b = {far.x, line};
  }
  return result;
}

FoldedSheet turned(FoldedSheet chain, double width) {
  const auto turn = [&](Vec2 p) { return Vec2{p.y, width - p.x}; };
  map_points(chain.flats.front(), turn);
  if (chain.flats.size() > 1) {
    chain.flats[1].a = turn(chain.flats[1].a);
    chain.flats[1].b = turn(chain.flats[1].b);
  }
  return chain;
}

}  // namespace ribbay::detail
