#pragma once

#include "layout/layout.hpp"

#include <memory>
#include <string>
#include <utility>

namespace ribbay {

/// A part that fills a box of the given size at `at`, in van axes.
inline Part box_part(std::string id, PartKind kind, Vec3 at, Vec3 size) {
  Part part;
  part.module = id.substr(0, id.find('/'));
  part.title = id.substr(id.find('/') + 1);
  part.id = std::move(id);
  part.kind = kind;
  part.shape = std::make_shared<const Shape>(box_shape({0, 0, 0}, size));
  part.frame.origin = at;
  return part;
}

/// Two equal rails, a panel, three screws and a battery: enough to have every kind of part, like
/// parts, and sums that can be done by hand. Masses 2, 2, 6, 0.01 each, 20 kg.
inline Layout sample_layout() {
  auto catalogue = std::make_shared<Catalogue>();
  Bolt& screw_type = catalogue->bolts["screw_4x16"];
  screw_type.key = "screw_4x16";
  screw_type.title = "Wood screw 4 x 16";

  Layout layout;
  layout.project = {
      .name = "sample", .title = "A \"small\" sample", .date = "2026-11-24", .author = ""};
  auto vehicle = std::make_shared<Vehicle>();
  vehicle->key = "test_van";
  vehicle->title = "Van for tests";
  layout.vehicle = vehicle;
  layout.catalogue = catalogue;
  layout.modules = {{.name = "rack",
                     .kind = "rack",
                     .title = "Rack",
                     .envelope = {},
                     .front = "rear",
                     .place = {}}};

  for (const auto& [name, y] : {std::pair{"left", 100.0}, std::pair{"right", -100.0}}) {
    Part rail =
        box_part(std::string("rack/rail.") + name, PartKind::member, {0, y, 0}, {40, 40, 1000});
    rail.title = "Rail";
    rail.stock = {.key = "slotted_40", .length = 1000.0};
    rail.material = "aluminium";
    rail.mass_kg = 2.0;
    layout.parts.push_back(rail);
  }
  Part shelf = box_part("rack/shelf", PartKind::panel, {0, -200, 1000}, {600, 400.0629, 18});
  shelf.title = "Shelf, upper";
  shelf.stock = {
      .key = "birch_18", .length = 600.0, .width = 400.0629, .thickness = 18.0, .grain = true};
  shelf.material = "birch_plywood";
  shelf.mass_kg = 6.0;
  layout.parts.push_back(shelf);
  for (const char* name : {"1", "2", "3"}) {
    Part screw =
        box_part(std::string("rack/screw.") + name, PartKind::hardware, {10, 0, 1000}, {4, 4, 16});
    screw.stock = {.key = "screw_4x16"};
    screw.mass_kg = 0.01;
    layout.parts.push_back(screw);
  }
  Part battery = box_part("rack/battery", PartKind::equipment, {50, -100, 50}, {300, 200, 200});
  battery.title = "Battery";
  battery.stock = {.key = "battery_large"};
  battery.mass_kg = 20.0;
  layout.parts.insert(layout.parts.begin(), battery);
  return layout;
}

}  // namespace ribbay
