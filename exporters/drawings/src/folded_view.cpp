#include "folded_view.hpp"

#include "base/wording.hpp"
#include "drawings/lettering.hpp"
#include "drawings/views.hpp"
#include "page_set.hpp"
#include "shape/facets.hpp"
#include "steps/looks.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

constexpr double kTitle = 8.0;  // below the view
constexpr double kLetters = 3.5;
constexpr int kSmaller = 3;  // scales

ViewFrame isometric_of(const PanelStudy& panel) {
  const Vec3 face = panel.view.towards_eye();
  const bool lies = panel.up == PanelUp::behind;
  const Vec3 vertical = lies ? face : panel.view.up;
  const Vec3 towards = lies ? -panel.view.up : face;
  return isometric(panel.view.right + vertical + towards, vertical);
}

}  // namespace

bool add_folded_view(Drawing& d, const Part& part, const PanelStudy& panel, double scale,
                     const Rect& area) {
  const ViewFrame view = isometric_of(panel);
  for (int smaller = 0; smaller < kSmaller; ++smaller) {
    const double own = smaller_scale(scale, smaller);
    const Drawn drawn =
        visible_lines({facets(*part.shape, panel_detail(own))}, view, {.shortest = 0.3 / own});
    const Rect picture = bounds_of(drawn);
    const std::string title = figure_title(say("view.folded"), own);
    const Vec2 size{std::max(picture.width() * own, text_width(title, kLetters)),
                    picture.height() * own + kTitle};
    const auto spot = free_spot(d, area, size);
    if (!spot) continue;
    const ViewPlace place = open_view(
        d, place_view(picture, own, *spot + Vec2{(size.x - picture.width() * own) / 2, kTitle}));
    add_view(d, drawn, place, kGroup50.visible(), kGroup50.hidden());
    add_text(d, title, {spot->x + size.x / 2, spot->y + 1.5}, kLetters, Align::centre);
    return true;
  }
  return false;
}

}  // namespace ribbay::detail
