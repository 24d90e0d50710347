#pragma once

#include "layout/layout.hpp"
#include "sample_shapes.hpp"

#include <algorithm>
#include <memory>
#include <string>

namespace ribbay::samples {

inline Frame at(double x, double y, double z) {
  return {{x, y, z}};
}

/// Turned by a quarter about x: what was up looks to the right.
inline Frame lying(double x, double y, double z) {
  return {{x, y, z}, {1, 0, 0}, {0, 0, 1}, {0, -1, 0}};
}

/// Turned by an odd angle about a slanted axis.
inline Frame askew(double x, double y, double z) {
  const Vec3 up = normalized({1, 2, 3});
  return frame_zx({x, y, z}, up, normalized(cross({0, 0, 1}, up)));
}

/// A rack of slotted members and a galley of panels: shared shapes in several places and attitudes,
/// one shape in two colours, marks, hardware, an id outside ASCII, and no vehicle.
inline Layout small_layout() {
  Layout layout;
  layout.project.name = "reed";
  layout.project.title = "Reed cutter's van";
  layout.project.author = "J\u00f8rn O'Example";

  auto catalogue = std::make_shared<Catalogue>();
  Material& aluminium = catalogue->materials["en_aw_6063"];
  aluminium.key = "en_aw_6063";
  aluminium.title = "Aluminium EN AW-6063";
  aluminium.density = 2.7e-6;
  Material& birch = catalogue->materials["birch_plywood"];
  birch.key = "birch_plywood";
  birch.title = "Birch plywood";
  birch.density = 0.68e-6;
  layout.catalogue = catalogue;

  Module rack;
  rack.name = "rack";
  rack.title = "Rack";
  Module galley;
  galley.name = "galley";
  galley.title = "Galley";
  layout.modules = {rack, galley};

  const auto add = [&](std::string id, std::string title, PartKind kind, std::string stock,
                       std::string material, std::string colour, const ShapePtr& shape,
                       Frame frame) {
    Part part;
    part.module = id.substr(0, id.find('/'));
    part.id = std::move(id);
    part.title = std::move(title);
    part.kind = kind;
    part.stock.key = std::move(stock);
    part.material = std::move(material);
    part.colour = std::move(colour);
    part.shape = shape;
    part.frame = frame;
    layout.parts.push_back(std::move(part));
  };
  const auto shared = [](Shape shape) { return std::make_shared<const Shape>(std::move(shape)); };

  const ShapePtr post = shared(prism(slotted_40(), 880));
  const ShapePtr rail = shared(prism(slotted_40(), 520));
  const char* member_colour = "#c8ccd0";
  for (const double x : {20.0, 580.0}) {
    for (const double y : {20.0, 400.0}) {
      const std::string where =
          std::string(x < 100 ? "rear" : "front") + (y < 100 ? "_right" : "_left");
      add("rack/post." + where, "Post", PartKind::member, "slotted_40", "en_aw_6063", member_colour,
          post, at(x, y, 0));
    }
    add(std::string("rack/rail.") + (x < 100 ? "rear" : "front"), "Rail", PartKind::member,
        "slotted_40", "en_aw_6063", member_colour, rail, lying(x, 400, 600));
  }
  add("rack/post.drilled", "Drilled post", PartKind::member, "slotted_40", "en_aw_6063",
      member_colour, shared(drilled_post()), at(300, 700, 0));
  add("rack/brace", "Brace", PartKind::member, "slotted_40", "en_aw_6063", member_colour, rail,
      askew(100, 100, 100));
  const ShapePtr bracket_shape = shared(bracket());
  const ShapePtr bolt_shape = shared(bolt());
  for (const int i : {1, 2, 3}) {
    add("rack/joint." + std::to_string(i) + ".bracket", "Corner bracket", PartKind::hardware,
        "bracket_40", "en_aw_6063", "#808890", bracket_shape, at(100.0 * i, 0, 300));
    add("rack/joint." + std::to_string(i) + ".bolt", "Bolt M8 x 25", PartKind::hardware,
        "bolt_m8_25", "", "#505050", bolt_shape, askew(100.0 * i, 50, 300));
  }
  add("galley/side.left", "Side", PartKind::panel, "birch_18", "birch_plywood", "#d8b780",
      shared(cabinet_side()), lying(700, 600, 0));
  add("galley/side.right", "Side, drilled", PartKind::panel, "birch_18", "birch_plywood", "#d8b780",
      shared(drilled_side()), lying(700, 900, 0));
  const ShapePtr shelf = shared(box_shape({0, 0, 0}, {380, 460, 12}));
  add("galley/shelf.1", "Shelf", PartKind::panel, "birch_12", "birch_plywood", "#d8b780", shelf,
      at(700, 0, 200));
  add("galley/shelf.2", "Shelf", PartKind::panel, "birch_12", "birch_plywood", "#d8b780", shelf,
      at(700, 0, 400));
  add("galley/front.gr\u00fcn", "Front \"\u0394\" \\ \U0001F690", PartKind::panel, "birch_12",
      "birch_plywood", "#3a7d44", shelf, at(700, 0, 600));
  add("galley/worktop", "Worktop", PartKind::panel, "birch_18", "birch_plywood", "#d8b780",
      shared(l_panel()), at(700, 0, 880));
  std::ranges::sort(layout.parts, {}, &Part::id);
  return layout;
}

}  // namespace ribbay::samples
