#include "base/tolerance.hpp"
#include "holds.hpp"
#include "kind.hpp"
#include "rack_joints.hpp"
#include "spec/fields.hpp"
#include "workshop.hpp"

#include <algorithm>
#include <iterator>

namespace ribbay::detail {

namespace {

/// Room that a notch leaves around a bracket.
constexpr double kBracketAir = 2.0;

/// A frame of slotted profile: posts between floor and top, rails between the posts at each level,
/// brackets in the corners.
///
///     x: post | bay 1 | post | bay 2 | post        y: front 0 .. depth        z: level = underside
///     of rails
class Rack {
 public:
  explicit Rack(const ModuleRequest& request)
      : r_{request},
        shop_{request},
        joints_{request, shop_},
        profile_{entry(request.catalogue.profiles, request.fields.text("profile"))},
        bracket_{bought(request, request.catalogue.brackets, request.fields.text("bracket"))},
        levels_{request.fields.numbers("levels")},
        s_{profile_.width},
        depth_{request.size.y} {}

  ModuleParts make() {
    if (!usable()) return shop_.finish();
    add_posts();
    for (std::size_t level = 0; level < levels_.size(); ++level) add_rails(level);
    joints_.drill(bench_, ends_);
    make_all(shop_, bench_);
    joints_.add_brackets(ends_);
    add_feet();
    for (const auto& [name, shelf] : r_.fields.tables("shelves")) add_shelf(name, shelf);
    for (const auto& [name, item] : r_.fields.tables("holds")) add_held(name, item);
    for (const auto& [name, infill] : r_.fields.tables("infill")) add_infill(name, infill);
    open_frame_lets_air_through();
    return shop_.finish();
  }

 private:
  // -- sizes
  // -----------------------------------------------------------------------------------------------

  bool usable() {
    if (!profile_.slot || std::abs(profile_.width - profile_.height) > kSame) {
      Finding finding = input_error("rack.profile", r_.fields.place("profile"));
      finding.subjects = {r_.name};
      shop_.find(std::move(finding.with("found", profile_.key)));
      return false;
    }
    if (depth_ < 3 * s_) {
      Finding finding = input_error("rack.too_shallow", r_.fields.place());
      finding.subjects = {r_.name};
      shop_.find(
          std::move(finding.with("measured", depth_, Unit::mm).with("required", 3 * s_, Unit::mm)));
      return false;
    }
    return joints_.usable() && bays_fit() && levels_fit();
  }

  bool bays_fit() {
    const auto& wanted = r_.fields.sizes("bays");
    const double free = r_.size.x - static_cast<double>(wanted.size() + 1) * s_;
    const auto bays = share_out(wanted, free);
    double fixed = 0.0;
    bool shared = false;
    for (const Size& size : wanted) {
      fixed += size.mm;
      shared = shared || size.share > 0;
    }
    // Without shares the bays must fill the width: nothing else says where the last post goes.
    if (!bays || free <= 0 || (!shared && std::abs(fixed - free) > kSame)) {
      Finding finding = input_error("rack.bays", r_.fields.place("bays"));
      finding.subjects = {r_.name};
      finding.with("measured", fixed, Unit::mm)
          .with("required", std::max(free, 0.0), Unit::mm)
          .with("width", r_.size.x, Unit::mm)
          .with("posts", static_cast<double>(wanted.size() + 1), Unit::count);
      shop_.find(std::move(finding));
      return false;
    }
    double x = s_ / 2;
    lines_.push_back(x);
    for (const double bay : *bays) lines_.push_back(x += bay + s_);
    return true;
  }

  bool levels_fit() {
    for (std::size_t i = 0; i < levels_.size(); ++i) {
      const double lowest = i == 0 ? 0.0 : levels_[i - 1] + s_;
      if (levels_[i] >= lowest - kSame && levels_[i] + s_ <= r_.size.z + kSame) continue;
      Finding finding = input_error("rack.levels", r_.fields.place("levels"));
      finding.subjects = {r_.name};
      finding.with("level", static_cast<double>(i + 1), Unit::count)
          .with("measured", levels_[i], Unit::mm)
          .with("lowest", lowest, Unit::mm)
          .with("highest", r_.size.z - s_, Unit::mm);
      shop_.find(std::move(finding));
      return false;
    }
    return true;
  }

  std::size_t bays() const { return lines_.size() - 1; }
  double bay_left(std::size_t bay) const { return lines_[bay] + s_ / 2; }
  double bay_right(std::size_t bay) const { return lines_[bay + 1] - s_ / 2; }
  double rail_top(std::size_t level) const { return levels_[level] + s_; }

  /// Brackets sit below the rails; where the floor leaves no room below, above them.
  bool brackets_above(std::size_t level) const { return levels_[level] < bracket_.leg + kContact; }

  // -- names
  // -----------------------------------------------------------------------------------------------

  /// Post lines count from the left: "left", "1" (after bay 1), ..., "right".
  std::string line(std::size_t index) const {
    return index == 0 ? r_.left() : index + 1 == lines_.size() ? r_.right() : std::to_string(index);
  }
  std::string post_name(const char* row, std::size_t index) const {
    return "post." + std::string(row) + "_" + line(index);
  }
  std::string post(const char* row, std::size_t index) const {
    return shop_.id(post_name(row, index));
  }
  static std::string level_name(std::size_t level) { return "level_" + std::to_string(level + 1); }
  static std::string bay_name(std::size_t bay) { return "bay_" + std::to_string(bay + 1); }

  // -- frame
  // -----------------------------------------------------------------------------------------------

  void add_posts() {
    for (std::size_t i = 0; i < lines_.size(); ++i) {
      for (const auto& [row, y] :
           {std::pair{"front", s_ / 2}, std::pair{"back", depth_ - s_ / 2}}) {
        put(Bar{.name = post_name(row, i),
                .title = "Post",
                .profile = &profile_,
                .from = {lines_[i], y, 0},
                .direction = {0, 0, 1},
                .across = {1, 0, 0},
                .length = r_.size.z,
                .holes = {}});
      }
    }
  }

  void add_rails(std::size_t level) {
    const double z = levels_[level] + s_ / 2;
    for (std::size_t bay = 0; bay < bays(); ++bay) {
      for (const auto& [row, y, face] :
           {std::tuple{"front", s_ / 2, -1.0}, std::tuple{"back", depth_ - s_ / 2, 1.0}}) {
        const std::string name = "rail." + level_name(level) + "." + bay_name(bay) + "." + row;
        put(Bar{.name = name,
                .title = "Rail",
                .profile = &profile_,
                .from = {bay_left(bay), y, z},
                .direction = {1, 0, 0},
                .across = {0, 1, 0},
                .length = bay_right(bay) - bay_left(bay),
                .holes = {}});
        const bool first = bay == 0;
        const bool last = bay + 1 == bays();
        end_rail(level, {bay_left(bay), y, 0},
                 {.name = name + "." + r_.left(),
                  .rail = name,
                  .post = post_name(row, bay),
                  .along = {1, 0, 0},
                  .face = {0, face, 0},
                  .leg = {},
                  .corner = {},
                  .bolts_apart = first,
                  .plate_apart = first});
        end_rail(level, {bay_right(bay), y, 0},
                 {.name = name + "." + r_.right(),
                  .rail = name,
                  .post = post_name(row, bay + 1),
                  .along = {-1, 0, 0},
                  .face = {0, face, 0},
                  .leg = {},
                  .corner = {},
                  .bolts_apart = last,
                  .plate_apart = last});
      }
    }
    for (std::size_t i = 0; i < lines_.size(); ++i) add_side_rail(level, i);
  }

  void add_side_rail(std::size_t level, std::size_t i) {
    const std::string name = "rail." + level_name(level) + ".side_" + line(i);
    put(Bar{.name = name,
            .title = "Side rail",
            .profile = &profile_,
            .from = {lines_[i], s_, levels_[level] + s_ / 2},
            .direction = {0, 1, 0},
            .across = {1, 0, 0},
            .length = depth_ - 2 * s_,
            .holes = {}});
    for (const auto& [row, y, inward] :
         {std::tuple{"front", s_, 1.0}, std::tuple{"back", depth_ - s_, -1.0}}) {
      end_rail(level, {lines_[i], y, 0},
               {.name = name + "." + row,
                .rail = name,
                .post = post_name(row, i),
                .along = {0, inward, 0},
                .face = {i + 1 == lines_.size() ? 1.0 : -1.0, 0, 0},
                .leg = {},
                .corner = {},
                .bolts_apart = true,
                .plate_apart = outer(i)});
    }
  }

  /// Notes one end of a rail: `at` is on the post's face (its z is ignored).
  void end_rail(std::size_t level, Vec3 at, RailEnd end) {
    const bool above = brackets_above(level);
    at.z = above ? rail_top(level) : levels_[level];
    end.name = end.name.substr(5);  // without "rail."
    end.leg = {0, 0, above ? 1.0 : -1.0};
    end.corner = at;
    ends_.push_back(std::move(end));
  }

  void put(Bar bar) {
    std::string name = bar.name;
    bench_.emplace(std::move(name), Workpiece{std::move(bar)});
  }

  /// True for the posts at the ends of the rack, not those between two bays.
  bool outer(std::size_t i) const { return i == 0 || i + 1 == lines_.size(); }

  /// True when brackets hold some rail at this post line.
  bool has_brackets(std::size_t i) const {
    return std::ranges::any_of(ends_, [&](const RailEnd& end) {
      return (end.post == post_name("front", i) || end.post == post_name("back", i)) &&
             joints_.bracketed(end);
    });
  }

  // -- feet
  // ------------------------------------------------------------------------------------------------

  /// Feet stand beside the lowest side rails where these cross a floor joist, so that each bolt has
  /// wood or steel under it.
  void add_feet() {
    if (!r_.fields.has("foot")) return;
    const double above = shop_.to_van(Vec3{0, 0, levels_[0]}).z;
    if (std::abs(above) > kContact) {
      Finding finding = input_error("rack.feet_in_air", r_.fields.place("foot"));
      finding.severity = Severity::warning;
      finding.subjects = {r_.name};
      shop_.find(std::move(finding.with("measured", above, Unit::mm)));
      return;
    }
    if (!r_.fields.has("floor_bolt")) {
      Finding finding = input_error("rack.no_floor_bolt", r_.fields.place("foot"));
      finding.subjects = {r_.name};
      shop_.find(std::move(finding));
      return;
    }
    const Bracket& foot = bought(r_, r_.catalogue.brackets, r_.fields.text("foot"));
    const Bolt& bolt = entry(r_.catalogue.bolts, r_.fields.text("floor_bolt"));
    int made = 0;
    for (std::size_t i = 0; i < lines_.size(); ++i) {
      const double side = i + 1 == lines_.size() ? -1.0 : 1.0;  // towards the middle of the rack
      int count = 0;
      for (const double y : joist_crossings(i, side, foot)) {
        const std::string name = "foot." + line(i) + "_" + std::to_string(++count);
        const Vec3 corner{lines_[i] + side * s_ / 2, y, levels_[0]};
        shop_.add(CornerJoint{.name = name,
                              .bracket = &foot,
                              .corner = corner,
                              .leg_a = {0, 0, 1},
                              .leg_b = {side, 0, 0},
                              .host_a = shop_.id("rail.level_1.side_" + line(i)),
                              .host_b = "vehicle/floor",
                              .bolt_b = &bolt});
        const Vec3 at = shop_.to_van(corner + Vec3{side * foot.hole_from_corner, 0, 0});
        shop_.made().floor_bolts.push_back(
            {.id = shop_.id(name + ".bolt_b"),
             .at = {at.x, at.y},
             .diameter = bolt.diameter,
             .over_joist = over_joist(r_.vehicle, {at.x, at.y}, bolt.diameter)});
        ++made;
      }
    }
    if (made < 4) {
      Finding finding;
      finding.code = "rack.few_feet";
      finding.severity = Severity::warning;
      finding.subjects = {r_.name};
      finding.with("measured", made, Unit::count).with("required", 4, Unit::count);
      shop_.find(std::move(finding));
    }
  }

  /// Places y along side rail `i` where a foot's bolt stands in the middle of a joist: the first
  /// and the last.
  std::vector<double> joist_crossings(std::size_t i, double side, const Bracket& foot) const {
    std::vector<double> all;
    const double x = lines_[i] + side * (s_ / 2 + foot.hole_from_corner);
    for (const Joist& joist : r_.vehicle.joists) {
      // The rail's line in van axes, moved to the bolt; where it meets the joist's middle.
      const Vec3 from = shop_.to_van(Vec3{x, 0, 0});
      const Vec3 to = shop_.to_van(Vec3{x, depth_, 0});
      const double a = joist.across ? from.x : from.y;
      const double b = joist.across ? to.x : to.y;
      if (std::abs(b - a) < kSame) continue;  // runs along the joist
      const double y = (joist.at - a) / (b - a) * depth_;
      const double other = joist.across ? from.y : from.x;
      if (other < joist.from || other > joist.to) continue;
      const double margin = s_ + foot.width / 2 + kBracketAir;  // clear of the posts
      if (y >= margin && y <= depth_ - margin) all.push_back(y);
    }
    std::ranges::sort(all);
    if (all.size() > 2) all = {all.front(), all.back()};
    return all;
  }

  // -- shelves, equipment, infill
  // --------------------------------------------------------------------------

  /// The level or bay a field names (they count from 1), or nullopt after saying how many there
  /// are.
  std::optional<std::size_t> index(const Record& from, const char* field, std::size_t count) {
    const double number = from.number(field);
    if (number >= 1 && number <= static_cast<double>(count))
      return static_cast<std::size_t>(number) - 1;
    Finding finding = input_error("rack.no_such_place", from.place(field));
    finding.subjects = {r_.name};
    finding.with("field", field)
        .with("measured", number, Unit::count)
        .with("required", static_cast<double>(count), Unit::count);
    shop_.find(std::move(finding));
    return std::nullopt;
  }

  void add_shelf(const std::string& name, const Record& shelf) {
    const auto level = index(shelf, "level", levels_.size());
    std::optional<std::size_t> bay;
    if (shelf.given("bay") && !(bay = index(shelf, "bay", bays()))) return;
    if (!level) return;
    const Sheet& sheet = entry(r_.catalogue.sheets, shelf.text("sheet"));
    const double z = rail_top(*level);
    Board board{.name = "shelf." + name,
                .title = "Shelf",
                .sheet = &sheet,
                .box = {{bay ? bay_left(*bay) : 0.0, 0, z},
                        {bay ? bay_right(*bay) : r_.size.x, depth_, z + sheet.thickness}},
                .normal = {0, 0, 1},
                .along = {1, 0, 0},
                .cuts = {},
                .holes = {}};
    for (std::size_t i = bay.value_or(0); i <= (bay ? *bay + 1 : lines_.size() - 1); ++i) {
      notch_around_post(board, *level, i, 0.0, s_, 1.0);
      notch_around_post(board, *level, i, depth_ - s_, depth_, -1.0);
    }
    if (board.box.hi.z > r_.size.z + kSame) {
      Finding finding = input_error("rack.shelf_above_top", shelf.place("level"));
      finding.subjects = {shop_.id(board.name)};
      finding.with("measured", board.box.hi.z, Unit::mm).with("required", r_.size.z, Unit::mm);
      shop_.find(std::move(finding));
      return;
    }
    const std::string id = shop_.add(board);
    shelves_.push_back({*level, bay, z + sheet.thickness});
    std::vector<std::string> rails;
    for (std::size_t b = bay.value_or(0); b <= bay.value_or(bays() - 1); ++b) {
      for (const char* row : {"front", "back"}) {
        rails.push_back(shop_.id("rail." + level_name(*level) + "." + bay_name(b) + "." + row));
      }
    }
    rails.insert(rails.begin(), id);
    shop_.join("joint.shelf." + name, "panel on rails", std::move(rails));
  }

  /// Takes the post, and the brackets beside it when they stand above the rail, out of a shelf.
  /// `inward` is +1 for the front row (its side rails run to the back) and -1 for the back row.
  void notch_around_post(Board& board, std::size_t level, std::size_t i, double y0, double y1,
                         double inward) {
    const double z0 = board.box.lo.z;
    const double z1 = board.box.hi.z;
    const double x0 = lines_[i] - s_ / 2;
    const double x1 = lines_[i] + s_ / 2;
    const auto notch = [&](Vec3 lo, Vec3 hi) {
      // Only where the notch really reaches into the board.
      if (hi.x <= board.box.lo.x + kSame || lo.x >= board.box.hi.x - kSame) return;
      board.cuts.push_back({{lo, hi}, CutRole::notch});
    };
    if (rail_top(level) < r_.size.z - kContact) notch({x0, y0, z0}, {x1, y1, z1});
    if (!brackets_above(level) || !has_brackets(i)) return;
    const double reach = bracket_.leg + kBracketAir;
    notch({x0 - reach, y0, z0}, {x1 + reach, y1, z1});
    notch({x0, inward > 0 ? y0 : y0 - reach, z0}, {x1, inward > 0 ? y1 + reach : y1, z1});
  }

  void add_held(const std::string& name, const Record& held) {
    const auto level = index(held, "level", levels_.size());
    const auto bay = index(held, "bay", bays());
    if (!level || !bay) return;
    const Equipment* chosen = held_item(r_, held, shop_.id(name), shop_.made().findings);
    if (chosen == nullptr) return;
    const Equipment& item = *chosen;
    const char* item_field = held.has("item") ? "item" : "candidates";
    const std::string& out = held.text("comes_out");
    const int turns = out == "front" ? 0 : out == "right" ? 1 : out == "back" ? 2 : 3;
    Vec3 size = item.body().size();
    if (turns % 2 == 1) std::swap(size.x, size.y);

    const double room = bay_right(*bay) - bay_left(*bay);
    const double x = held.has("from_left") ? bay_left(*bay) + held.number("from_left")
                                           : bay_left(*bay) + (room - size.x) / 2;
    const double y = held.has("from_front") ? held.number("from_front") : (depth_ - size.y) / 2;
    if (size.x > room + kSame) {
      Finding finding = input_error("rack.item_too_wide", held.place(item_field));
      finding.subjects = {shop_.id(name)};
      finding.with("measured", size.x, Unit::mm)
          .with("required", room, Unit::mm)
          .with("bay", static_cast<double>(*bay + 1), Unit::count);
      shop_.find(std::move(finding));
      return;
    }
    if (size.y > depth_ + kSame) {
      Finding finding = input_error("rack.item_too_deep", held.place(item_field));
      finding.subjects = {shop_.id(name)};
      finding.with("measured", size.y, Unit::mm).with("required", depth_, Unit::mm);
      shop_.find(std::move(finding));
      return;
    }
    double z = rail_top(*level);
    if (const double* shelf = shelf_top(*level, *bay)) {
      z = *shelf;
    } else {
      add_seats(name, *level, *bay, x, size.x);
    }
    shop_.add_equipment(name, item, {x, y, z}, turns);
  }

  const double* shelf_top(std::size_t level, std::size_t bay) const {
    for (const ShelfPlace& shelf : shelves_) {
      if (shelf.level == level && (!shelf.bay || *shelf.bay == bay)) return &shelf.top;
    }
    return nullptr;
  }

  /// Two members from the front rail to the back rail, flush with their tops, under the sides of
  /// something that stands at x..x+width.
  void add_seats(const std::string& name, std::size_t level, std::size_t bay, double x,
                 double width) {
    const double lowest = bay_left(bay) + s_ / 2;
    const double highest = bay_right(bay) - s_ / 2;
    const double left = std::clamp(x + s_ / 2, lowest, highest);
    const double right = std::clamp(x + width - s_ / 2, lowest, highest);
    // One is enough under something too narrow for two with a bracket between them.
    const bool two = right - left >= s_ + 2 * (bracket_.leg + kBracketAir);
    add_seat(name + "." + r_.left(), level, bay, two ? left : (left + right) / 2, 1.0);
    if (two) add_seat(name + "." + r_.right(), level, bay, right, -1.0);
  }

  void add_seat(const std::string& name, std::size_t level, std::size_t bay, double x,
                double side) {
    const double z = levels_[level] + s_ / 2;
    const std::string id = shop_.add(Bar{.name = "seat." + name,
                                         .title = "Seat rail",
                                         .profile = &profile_,
                                         .from = {x, s_, z},
                                         .direction = {0, 1, 0},
                                         .across = {1, 0, 0},
                                         .length = depth_ - 2 * s_,
                                         .holes = {}});
    for (const auto& [row, y, inward] :
         {std::tuple{"front", s_, 1.0}, std::tuple{"back", depth_ - s_, -1.0}}) {
      shop_.add(CornerJoint{
          .name = "bracket.seat." + name + "." + row,
          .bracket = &bracket_,
          .corner = {x + side * s_ / 2, y, z},
          .leg_a = {side, 0, 0},
          .leg_b = {0, inward, 0},
          .host_a = shop_.id("rail." + level_name(level) + "." + bay_name(bay) + "." + row),
          .host_b = id});
    }
  }

  /// A panel in the slots around one opening of the frame.
  void add_infill(const std::string& name, const Record& infill) {
    const auto level = index(infill, "above_level", levels_.size() - 1);
    const std::string& side = infill.text("side");
    const bool across = side == "front" || side == "back";
    std::optional<std::size_t> bay = 0;
    if (across) bay = index(infill, "bay", bays());
    if (!level || !bay) return;
    const Sheet& sheet = entry(r_.catalogue.sheets, infill.text("sheet"));
    const Slot& slot = *profile_.slot;
    if (sheet.thickest > slot.opening - kContact) {
      Finding finding = input_error("rack.infill_too_thick", infill.place("sheet"));
      finding.subjects = {shop_.id("infill." + name)};
      finding.with("measured", sheet.thickest, Unit::mm).with("required", slot.opening, Unit::mm);
      shop_.find(std::move(finding));
      return;
    }
    const double into = slot.depth - kSlotFloorAir;
    const double t = sheet.thickness;
    const double z0 = rail_top(*level);
    const double z1 = levels_[*level + 1];
    // `u` runs along the opening's width: x at the front and back, y at the sides.
    const double u0 = across ? bay_left(*bay) : s_;
    const double u1 = across ? bay_right(*bay) : depth_ - s_;
    const double plane = side == "front"  ? s_ / 2
                         : side == "back" ? depth_ - s_ / 2
                         : side == "left" ? lines_.front()
                                          : lines_.back();
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
    const std::size_t end = side == "left" ? 0 : lines_.size() - 1;  // of a panel at the side
    const std::size_t first = across ? *bay : end;
    const std::size_t last = across ? *bay + 1 : end;
    // A bracket needs room beside it; the foot of a connector only what lies in its slot.
    const double notch = bracket_.leg + kBracketAir;
    const auto notch_corners = [&](double edge, double inward, bool brackets) {
      for (const auto& [i, u, right] : {std::tuple{first, u0, 1.0}, std::tuple{last, u1, -1.0}}) {
        const bool bracket = brackets && has_brackets(i);
        if (!bracket && !joints_.connectors()) continue;
        const double reach = bracket ? notch : 0.0;
        const auto [ua, ub] = std::minmax({u - right * into, u + right * reach});
        const auto [za, zb] = std::minmax({edge - inward * into, edge + inward * reach});
        board.cuts.push_back({box(ua, ub, za, zb), CutRole::notch});
      }
    };
    notch_corners(z0, 1.0, brackets_above(*level));
    notch_corners(z1, -1.0, !brackets_above(*level + 1));
    const std::string id = shop_.add(board);

    std::vector<std::string> around{id};
    for (const std::size_t l : {*level, *level + 1}) {
      around.push_back(shop_.id("rail." + level_name(l) + "." +
                                (across ? bay_name(*bay) + "." + side : "side_" + line(end))));
    }
    if (across) {
      around.push_back(post(side.c_str(), *bay));
      around.push_back(post(side.c_str(), *bay + 1));
    } else {
      around.push_back(post("front", end));
      around.push_back(post("back", end));
    }
    shop_.join("joint.infill." + name, "panel in slot", std::move(around));
  }

  /// Posts, rails and brackets stand in the air around equipment without stopping it; panels do.
  void open_frame_lets_air_through() {
    std::vector<std::string> open;
    for (const Part& part : shop_.made().parts) {
      if (part.kind == PartKind::member || part.kind == PartKind::hardware) open.push_back(part.id);
    }
    for (Zone& zone : shop_.made().zones) {
      if (zone.kind == ZoneKind::air) zone.allowed = open;
    }
  }

  struct ShelfPlace {
    std::size_t level = 0;
    std::optional<std::size_t> bay;
    double top = 0.0;
  };

  const ModuleRequest& r_;
  Workshop shop_;
  RackJoints joints_;
  const Profile& profile_;
  const Bracket& bracket_;
  std::vector<double> levels_;
  double s_;  ///< side of the square profile
  double depth_;
  std::vector<double> lines_;  ///< x of the post lines' middles
  Workpieces bench_;
  std::vector<RailEnd> ends_;
  std::vector<ShelfPlace> shelves_;
};

/// A rack's own fields, with those of its joints after the bracket.
std::vector<Field> with_joints(std::vector<Field> own) {
  std::vector<Field> joints = RackJoints::fields();
  own.insert(own.begin() + 2, std::make_move_iterator(joints.begin()),
             std::make_move_iterator(joints.end()));
  return own;
}

}  // namespace

Kind rack_kind() {
  return {
      .name = "rack",
      .schema = module_schema(
          "rack",
          "a frame of slotted profile with bays and levels, shelves, infill panels and equipment",
          with_joints(
          {reference_field("profile", "profile")
               .needed()
               .means("square slotted profile of posts and rails"),
           reference_field("bracket", "bracket")
               .needed()
               .means("inside-corner bracket at every rail end"),
           sizes_field("bays")
               .items(1, 20)
               .otherwise("[\"1 share\"]")
               .means("free widths between the posts, from left to right"),
           lengths_field("levels").needed().items(1, 30).at_least(0).means(
               "heights of the undersides of the rails above the rack's own underside, rising"),
           reference_field("foot", "bracket")
               .means("bracket that holds the lowest side rails to the floor where they cross a "
                      "joist"),
           reference_field("floor_bolt", kMachineBolt)
               .means("bolt from a foot into the joist; needed with foot"),
           keyed_field(
               "shelves",
               {count_field("level").needed().at_least(1).means(
                    "the level it lies on; 1 is the lowest"),
                count_field("bay").at_least(1).means("one bay, counted from the left; else all"),
                reference_field("sheet", kBoard).needed().means("what it is cut from")})
               .means("shelves on the rails, notched around the posts"),
           keyed_field(
               "holds",
               {held_item_fields()[0], held_item_fields()[1],
                count_field("bay").needed().at_least(1).means("bay, counted from the left"),
                count_field("level").needed().at_least(1).means("level it stands on"),
                choice_field("comes_out", {"front", "back", "left", "right"})
                    .otherwise("front")
                    .means("side of the rack that its front looks to; recorded for the way out, "
                           "and not "
                           "yet checked"),
                length_field("from_left").at_least(0).means("from the bay's left post; else in the middle"),
                length_field("from_front").at_least(0).means("from the rack's front; else in the middle")})
               .means("equipment in the bays; it stands on a shelf, or else on seat rails made for "
                      "it"),
           keyed_field(
               "infill",
               {choice_field("side", {"front", "back", "left", "right"})
                    .needed()
                    .means("side of the rack"),
                count_field("bay").otherwise("1").at_least(1).means("bay of a front or back panel"),
                count_field("above_level")
                    .needed()
                    .at_least(1)
                    .means("level under the opening; it reaches up to the next one"),
                reference_field("sheet", kBoard).needed().means("what it is cut from")})
               .means("panels in the slots, put in before the frame is closed")})),
      .generate = [](const ModuleRequest& request) { return Rack(request).make(); }};
}

}  // namespace ribbay::detail
