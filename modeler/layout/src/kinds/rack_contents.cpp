#include "base/tolerance.hpp"
#include "holds.hpp"
#include "rack.hpp"

#include <algorithm>
#include <optional>
#include <tuple>
#include <utility>

namespace ribbay::detail {

namespace {

/// The level or bay a field names (they count from 1), or nullopt after saying how many there
/// are.
std::optional<std::size_t> index(RackWork& w, const Record& from, const char* field,
                                 std::size_t count) {
  const double number = from.number(field);
  if (number >= 1 && number <= static_cast<double>(count))
    return static_cast<std::size_t>(number) - 1;
  Finding finding = input_error("rack.no_such_place", from.place(field));
  finding.subjects = {w.request.name};
  finding.with("field", field)
      .with("measured", number, Unit::count)
      .with("required", static_cast<double>(count), Unit::count);
  w.shop.find(std::move(finding));
  return std::nullopt;
}

/// Takes the post, and the brackets beside it when they stand above the rail, out of a shelf.
/// `inward` is +1 for the front row (its side rails run to the back) and -1 for the back row.
void notch_around_post(RackWork& w, Board& board, std::size_t level, std::size_t i, double y0,
                       double y1, double inward) {
  const double z0 = board.box.lo.z;
  const double z1 = board.box.hi.z;
  const double x0 = w.lines[i] - w.side / 2;
  const double x1 = w.lines[i] + w.side / 2;
  const auto notch = [&](Vec3 lo, Vec3 hi) {
    // Only where the notch really reaches into the board.
    if (hi.x <= board.box.lo.x + kSame || lo.x >= board.box.hi.x - kSame) return;
    board.cuts.push_back({{lo, hi}, CutRole::notch});
  };
  if (w.rail_top(level) < w.request.size.z - kContact) notch({x0, y0, z0}, {x1, y1, z1});
  if (!w.brackets_above(level) || !w.has_brackets(i)) return;
  const double reach = w.bracket.leg + kBracketAir;
  notch({x0 - reach, y0, z0}, {x1 + reach, y1, z1});
  notch({x0, inward > 0 ? y0 : y0 - reach, z0}, {x1, inward > 0 ? y1 + reach : y1, z1});
}

void add_shelf(RackWork& w, const std::string& name, const Record& shelf) {
  const auto level = index(w, shelf, "level", w.levels.size());
  std::optional<std::size_t> bay;
  if (shelf.given("bay") && !(bay = index(w, shelf, "bay", w.bays()))) return;
  if (!level) return;
  const Sheet& sheet = entry(w.request.catalogue.sheets, shelf.text("sheet"));
  const double z = w.rail_top(*level);
  Board board{.name = "shelf." + name,
              .title = "Shelf",
              .sheet = &sheet,
              .box = {{bay ? w.bay_left(*bay) : 0.0, 0, z},
                      {bay ? w.bay_right(*bay) : w.request.size.x, w.depth, z + sheet.thickness}},
              .normal = {0, 0, 1},
              .along = {1, 0, 0},
              .cuts = {},
              .holes = {}};
  for (std::size_t i = bay.value_or(0); i <= (bay ? *bay + 1 : w.lines.size() - 1); ++i) {
    notch_around_post(w, board, *level, i, 0.0, w.side, 1.0);
    notch_around_post(w, board, *level, i, w.depth - w.side, w.depth, -1.0);
  }
  if (board.box.hi.z > w.request.size.z + kSame) {
    Finding finding = input_error("rack.shelf_above_top", shelf.place("level"));
    finding.subjects = {w.shop.id(board.name)};
    finding.with("measured", board.box.hi.z, Unit::mm).with("required", w.request.size.z, Unit::mm);
    w.shop.find(std::move(finding));
    return;
  }
  const std::string id = w.shop.add(board);
  w.shelves.push_back({*level, bay, z + sheet.thickness});
  std::vector<std::string> rails;
  for (std::size_t b = bay.value_or(0); b <= bay.value_or(w.bays() - 1); ++b) {
    for (const char* row : {"front", "back"}) {
      rails.push_back(w.shop.id("rail." + RackWork::level_name(*level) + "." +
                                RackWork::bay_name(b) + "." + row));
    }
  }
  rails.insert(rails.begin(), id);
  w.shop.join("joint.shelf." + name, "panel on rails", std::move(rails));
}

const double* shelf_top(const RackWork& w, std::size_t level, std::size_t bay) {
  for (const RackWork::ShelfPlace& shelf : w.shelves) {
    if (shelf.level == level && (!shelf.bay || *shelf.bay == bay)) return &shelf.top;
  }
  return nullptr;
}

void add_seat(RackWork& w, const std::string& name, std::size_t level, std::size_t bay, double x,
              double side) {
  const double z = w.levels[level] + w.side / 2;
  const std::string id = w.shop.add(Bar{.name = "seat." + name,
                                        .title = "Seat rail",
                                        .profile = &w.profile,
                                        .from = {x, w.side, z},
                                        .direction = {0, 1, 0},
                                        .across = {1, 0, 0},
                                        .length = w.depth - 2 * w.side,
                                        .holes = {}});
  for (const auto& [row, y, inward] :
       {std::tuple{"front", w.side, 1.0}, std::tuple{"back", w.depth - w.side, -1.0}}) {
    w.shop.add(CornerJoint{.name = "bracket.seat." + name + "." + row,
                           .bracket = &w.bracket,
                           .corner = {x + side * w.side / 2, y, z},
                           .leg_a = {side, 0, 0},
                           .leg_b = {0, inward, 0},
                           .host_a = w.shop.id("rail." + RackWork::level_name(level) + "." +
                                               RackWork::bay_name(bay) + "." + row),
                           .host_b = id});
  }
}

/// Two members from the front rail to the back rail, flush with their tops, under the sides of
/// something that stands at x..x+width.
void add_seats(RackWork& w, const std::string& name, std::size_t level, std::size_t bay, double x,
               double width) {
  const double lowest = w.bay_left(bay) + w.side / 2;
  const double highest = w.bay_right(bay) - w.side / 2;
  const double left = std::clamp(x + w.side / 2, lowest, highest);
  const double right = std::clamp(x + width - w.side / 2, lowest, highest);
  // One is enough under something too narrow for two with a bracket between them.
  const bool two = right - left >= w.side + 2 * (w.bracket.leg + kBracketAir);
  add_seat(w, name + "." + w.request.left(), level, bay, two ? left : (left + right) / 2, 1.0);
  if (two) add_seat(w, name + "." + w.request.right(), level, bay, right, -1.0);
}

void add_held(RackWork& w, const std::string& name, const Record& held) {
  const auto level = index(w, held, "level", w.levels.size());
  const auto bay = index(w, held, "bay", w.bays());
  if (!level || !bay) return;
  const Equipment* chosen = held_item(w.request, held, w.shop.id(name), w.shop.made().findings);
  if (chosen == nullptr) return;
  const Equipment& item = *chosen;
  const char* item_field = held.has("item") ? "item" : "candidates";
  const std::string& out = held.text("comes_out");
  const int turns = out == "front" ? 0 : out == "right" ? 1 : out == "back" ? 2 : 3;
  Vec3 size = item.body().size();
  if (turns % 2 == 1) std::swap(size.x, size.y);

  const double room = w.bay_right(*bay) - w.bay_left(*bay);
  const double x = held.has("from_left") ? w.bay_left(*bay) + held.number("from_left")
                                         : w.bay_left(*bay) + (room - size.x) / 2;
  const double y = held.has("from_front") ? held.number("from_front") : (w.depth - size.y) / 2;
  if (size.x > room + kSame) {
    Finding finding = input_error("rack.item_too_wide", held.place(item_field));
    finding.subjects = {w.shop.id(name)};
    finding.with("measured", size.x, Unit::mm)
        .with("required", room, Unit::mm)
        .with("bay", static_cast<double>(*bay + 1), Unit::count);
    w.shop.find(std::move(finding));
    return;
  }
  if (size.y > w.depth + kSame) {
    Finding finding = input_error("rack.item_too_deep", held.place(item_field));
    finding.subjects = {w.shop.id(name)};
    finding.with("measured", size.y, Unit::mm).with("required", w.depth, Unit::mm);
    w.shop.find(std::move(finding));
    return;
  }
  double z = w.rail_top(*level);
  if (const double* shelf = shelf_top(w, *level, *bay)) {
    z = *shelf;
  } else {
    add_seats(w, name, *level, *bay, x, size.x);
  }
  w.shop.add_equipment(name, item, {x, y, z}, turns);
}

/// A panel in the slots around one opening of the frame.
void add_infill(RackWork& w, const std::string& name, const Record& infill) {
  const auto level = index(w, infill, "above_level", w.levels.size() - 1);
  const std::string& side = infill.text("side");
  const bool across = side == "front" || side == "back";
  std::optional<std::size_t> bay = 0;
  if (across) bay = index(w, infill, "bay", w.bays());
  if (!level || !bay) return;
  const Sheet& sheet = entry(w.request.catalogue.sheets, infill.text("sheet"));
  const Slot& slot = *w.profile.slot;
  if (sheet.thickest > slot.opening - kContact) {
    Finding finding = input_error("rack.infill_too_thick", infill.place("sheet"));
    finding.subjects = {w.shop.id("infill." + name)};
    finding.with("measured", sheet.thickest, Unit::mm).with("required", slot.opening, Unit::mm);
    w.shop.find(std::move(finding));
    return;
  }
  const double into = slot.depth - kSlotFloorAir;
  const double t = sheet.thickness;
  const double z0 = w.rail_top(*level);
  const double z1 = w.levels[*level + 1];
  // `u` runs along the opening's width: x at the front and back, y at the sides.
  const double u0 = across ? w.bay_left(*bay) : w.side;
  const double u1 = across ? w.bay_right(*bay) : w.depth - w.side;
  const double plane = side == "front"  ? w.side / 2
                       : side == "back" ? w.depth - w.side / 2
                       : side == "left" ? w.lines.front()
                                        : w.lines.back();
  const auto box = [&](double ua, double ub, double za, double zb) {
    return across ? Box{{ua, plane - t / 2, za}, {ub, plane + t / 2, zb}}
                  : Box{{plane - t / 2, ua, za}, {plane + t / 2, ub, zb}};
  };
  Board board{.name = "infill." + name,
              .title = "Infill panel",
              .sheet = &sheet,
              .box = box(u0 - into, u1 + into, z0 - into, z1 + into),
              .normal = across ? Vec3{0, side == "front" ? -1.0 : 1.0, 0}
                               : Vec3{side == "left" ? -1.0 : 1.0, 0, 0},
              .along = {0, 0, 1},
              .cuts = {},
              .holes = {}};
  const std::size_t end = side == "left" ? 0 : w.lines.size() - 1;  // of a panel at the side
  const std::size_t first = across ? *bay : end;
  const std::size_t last = across ? *bay + 1 : end;
  // A bracket needs room beside it; the foot of a connector only what lies in its slot.
  const double notch = w.bracket.leg + kBracketAir;
  const auto notch_corners = [&](double edge, double inward, bool brackets) {
    for (const auto& [i, u, right] : {std::tuple{first, u0, 1.0}, std::tuple{last, u1, -1.0}}) {
      const bool bracket = brackets && w.has_brackets(i);
      if (!bracket && !w.joints.connectors()) continue;
      const double reach = bracket ? notch : 0.0;
      const auto [ua, ub] = std::minmax({u - right * into, u + right * reach});
      const auto [za, zb] = std::minmax({edge - inward * into, edge + inward * reach});
      board.cuts.push_back({box(ua, ub, za, zb), CutRole::notch});
    }
  };
  notch_corners(z0, 1.0, w.brackets_above(*level));
  notch_corners(z1, -1.0, !w.brackets_above(*level + 1));
  const std::string id = w.shop.add(board);

  std::vector<std::string> around{id};
  for (const std::size_t l : {*level, *level + 1}) {
    around.push_back(
        w.shop.id("rail." + RackWork::level_name(l) + "." +
                  (across ? RackWork::bay_name(*bay) + "." + side : "side_" + w.line(end))));
  }
  if (across) {
    around.push_back(w.post(side.c_str(), *bay));
    around.push_back(w.post(side.c_str(), *bay + 1));
  } else {
    around.push_back(w.post("front", end));
    around.push_back(w.post("back", end));
  }
  w.shop.join("joint.infill." + name, "panel in slot", std::move(around));
}

/// Posts, rails and brackets stand in the air around equipment without stopping it; panels do.
void open_frame_lets_air_through(RackWork& w) {
  std::vector<std::string> open;
  for (const Part& part : w.shop.made().parts) {
    if (part.kind == PartKind::member || part.kind == PartKind::hardware) open.push_back(part.id);
  }
  for (Zone& zone : w.shop.made().zones) {
    if (zone.kind == ZoneKind::air) zone.allowed = open;
  }
}

}  // namespace

void make_rack_contents(RackWork& w) {
  const Record& fields = w.request.fields;
  for (const auto& [name, shelf] : fields.tables("shelves")) add_shelf(w, name, shelf);
  for (const auto& [name, item] : fields.tables("holds")) add_held(w, name, item);
  for (const auto& [name, infill] : fields.tables("infill")) add_infill(w, name, infill);
  open_frame_lets_air_through(w);
}

}  // namespace ribbay::detail
