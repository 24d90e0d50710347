#include "base/tolerance.hpp"
#include "galley.hpp"
#include "holds.hpp"
#include "spec/fields.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

/// Heights between which something stands in a column: from the bottom board or a shelf up to the
/// next one or the stretchers.
struct Storey {
  double from = 0.0;
  double to = 0.0;
};

/// Reports "galley.no_such_shelf".
std::optional<Storey> storey_of(const GalleyWork& work, const GalleyColumn& column,
                                const Record& held) {
  const double t = work.plan.carcass->thickness;
  std::vector<double> shelves =
      column.fields->has("shelves") ? column.fields->numbers("shelves") : std::vector<double>{};
  std::ranges::sort(shelves);
  const auto on = static_cast<std::size_t>(held.number("on_shelf"));
  if (on > shelves.size()) {
    Finding finding = input_error("galley.no_such_shelf", held.place("on_shelf"));
    finding.subjects = {work.asked(column, {}).path};
    work.shop.find(std::move(finding)
                       .with("measured", static_cast<double>(on), Unit::count)
                       .with("required", static_cast<double>(shelves.size()), Unit::count));
    return std::nullopt;
  }
  const double floor = work.plan.floor;
  return Storey{on == 0 ? floor : floor + shelves[on - 1] + t,
                on < shelves.size() ? floor + shelves[on] : work.plan.ceiling};
}

void hold(const GalleyWork& work, const GalleyColumn& column, const std::string& name,
          const Record& held) {
  const Equipment* item =
      held_item(work.request, held, work.shop.id(name), work.shop.made().findings);
  const auto storey = storey_of(work, column, held);
  if (item == nullptr || !storey) return;
  const Vec3 size = item->body().size();
  const double behind_front = held.number("from_front");
  const Vec3 room{column.opening(), work.plan.back_face - work.plan.carcass_front - behind_front,
                  storey->to - storey->from};
  if (size.x > room.x + kSame || size.y > room.y + kSame || size.z > room.z + kSame) {
    Finding finding = input_error("galley.item_no_room", held.place(held_item_field(held)));
    finding.subjects = {work.shop.id(name), work.asked(column, {}).path};
    work.shop.find(std::move(finding)
                       .with("width", size.x, Unit::mm)
                       .with("depth", size.y, Unit::mm)
                       .with("height", size.z, Unit::mm)
                       .with("room_width", room.x, Unit::mm)
                       .with("room_depth", room.y, Unit::mm)
                       .with("room_height", room.z, Unit::mm));
    return;
  }
  const double beside = held.number_if("from_left").value_or((room.x - size.x) / 2);
  work.shop.add_equipment(
      name, *item, {column.left + beside, work.plan.carcass_front + behind_front, storey->from}, 0);
}

}  // namespace

void make_held(const GalleyWork& work, const GalleyColumn& column) {
  for (const auto& [name, held] : column.fields->tables("holds")) hold(work, column, name, held);
}

Field galley_holds_field() {
  return keyed_field(
             "holds",
             held_item_fields(
                 "what stands there, its front to the front",
                 {count_field("on_shelf")
                      .otherwise("0")
                      .at_least(0)
                      .at_most(20)
                      .means(
                          "the shelf that it stands on, counted from below; 0: the bottom board"),
                  length_field("from_left")
                      .at_least(0)
                      .means("from the column's left board; else in the middle"),
                  length_field("from_front")
                      .otherwise("0 mm")
                      .at_least(0)
                      .means("how far its front stands back from the front edges of the boards "
                             "beside it")}))
      .means("equipment in an open column or behind a door, such as an oven or a fridge");
}

}  // namespace ribbay::detail
