#include "base/tolerance.hpp"
#include "loft.hpp"
#include "schemas.hpp"
#include "spec/evaluator.hpp"

#include <algorithm>
#include <set>

namespace ribbay {

using namespace detail;

namespace {

struct Named {
  std::string name;
  Record record;
};

/// Stations closer than this are one cross-section measured twice.
constexpr double kLeastSpan = 1.0;

/// More of one kind than any van has; a stated limit for hostile files.
constexpr std::size_t kMostTables = 100;

class VehicleReader {
 public:
  explicit VehicleReader(const Document& document)
      : document_(document), evaluator_(document, {}) {}

  Result<Vehicle> read() {
    std::vector<std::string> known{"format", "include", "values"};
    for (const auto& [name, schema] : vehicle_schemas()) known.push_back(name);
    evaluator_.check_top_level(known);
    evaluator_.check_values();
    declare_all();

    const bool head = read_head();
    // Everything else is checked against the stations, so it waits for them.
    const bool stations = head && read_stations();
    for (const Named& rib : records("rib")) {
      if (stations) add_ribs(rib);
    }
    for (const Named& arch : records("arch")) {
      if (stations) add_arches(arch);
    }
    for (const Named& opening : records("opening")) {
      if (stations) add_opening(opening);
    }
    for (const Named& joist : records("joist")) {
      if (stations) add_joists(joist);
    }
    read_axles();

    Findings all = evaluator_.take_findings();
    all.insert(all.end(), findings_.begin(), findings_.end());
    if (!all.empty()) return fail(std::move(all));
    return std::move(vehicle_);
  }

 private:
  Finding& report(std::string code, const Place& place, std::string subject) {
    Finding finding = input_error(std::move(code), place);
    finding.subjects.push_back(std::move(subject));
    return findings_.emplace_back(std::move(finding));
  }

  /// Makes every table known before any is read, so that expressions may name them in any order.
  void declare_all() {
    evaluator_.declare("vehicle", vehicle_schema_of("vehicle"), "vehicle");
    evaluator_.declare("axle", vehicle_schema_of("axle"), "axle");
    for (const char* kind : {"station", "rib", "arch", "opening", "joist"}) {
      const Node* node = document_.root.find(kind);
      if (node == nullptr || node->table() == nullptr) continue;
      for (const Entry& entry : *node->table()) {
        evaluator_.declare(std::string(kind) + "." + entry.key, vehicle_schema_of(kind));
      }
    }
  }

  /// The named tables of one kind that read without fault, in file order.
  std::vector<Named> records(const std::string& table) {
    std::vector<Named> result;
    const Node* node = document_.root.find(table);
    if (node == nullptr) return result;
    if (node->table() == nullptr) {
      report("vehicle.not_tables", node->place, table);
      return result;
    }
    if (node->table()->size() > kMostTables) {
      report("vehicle.too_many", node->place, table)
          .with("count", static_cast<double>(node->table()->size()), Unit::count)
          .with("limit", static_cast<double>(kMostTables), Unit::count);
      return result;
    }
    for (const Entry& entry : *node->table()) {
      if (auto record = evaluator_.record(table + "." + entry.key))
        result.push_back({entry.key, std::move(*record)});
    }
    return result;
  }

  bool read_head() {
    const auto head = evaluator_.record("vehicle");
    if (!head) return false;
    head_ = *head;
    vehicle_.title = head_.text_or("title", "");
    vehicle_.floor_thickness = head_.number("floor_thickness");
    vehicle_.rear_sill = head_.number("rear_sill");
    vehicle_.gross_limit_kg = head_.number_if("gross_limit").value_or(0.0);
    vehicle_.rear_closed = head_.text("rear") == "closed";
    vehicle_.front_closed = head_.text("front") == "closed";
    return true;
  }

  bool read_stations() {
    const std::size_t before = findings_.size() + evaluator_.findings().size();
    const std::vector<Named> found = records("station");
    std::vector<std::pair<Station, const Named*>> read;
    for (const Named& named : found) {
      if (auto station = read_station(named)) read.emplace_back(std::move(*station), &named);
    }
    std::ranges::stable_sort(read, {}, [](const auto& pair) { return pair.first.x; });
    for (std::size_t i = 0; i < read.size(); ++i) {
      const auto& [station, named] = read[i];
      if (i > 0 && station.x - read[i - 1].first.x < kLeastSpan) {
        report("vehicle.same_station", named->record.place("x"), named->name)
            .with("x", station.x, Unit::mm)
            .with("other", read[i - 1].first.name)
            .with("least", kLeastSpan, Unit::mm);
      }
      if (station.surveyed != read.front().first.surveyed) {
        report("vehicle.mixed_survey", named->record.place(), named->name)
            .with("other", read.front().first.name);
      }
      vehicle_.stations.push_back(station);
    }
    const bool good = findings_.size() + evaluator_.findings().size() == before;
    if (good && vehicle_.stations.size() < 2) {
      const Node* node = document_.root.find("station");
      report("vehicle.few_stations", node != nullptr ? node->place : document_.root.place,
             "station")
          .with("count", static_cast<double>(vehicle_.stations.size()), Unit::count);
    }
    return good && vehicle_.stations.size() >= 2;
  }

  std::optional<Station> read_station(const Named& named) {
    const Record& record = named.record;
    const Record& heights_from = record.has("heights") ? record : head_;
    if (!heights_from.has("heights")) {
      report("vehicle.no_heights", record.place(), named.name);
      return std::nullopt;
    }
    const std::vector<double>& heights = heights_from.numbers("heights");
    if (!heights_good(heights, heights_from.place("heights"), named.name)) return std::nullopt;

    const bool both = record.has("both");
    const bool left = record.has("left");
    const bool right = record.has("right");
    if (both ? left || right : !(left && right)) {
      report("vehicle.which_widths", record.place(), named.name);
      return std::nullopt;
    }
    Station station;
    station.name = named.name;
    station.x = record.number("x");
    station.uncertainty =
        record.has("uncertainty") ? record.number("uncertainty") : head_.number("uncertainty");
    const std::string surveyed = record.text_or("surveyed", head_.text("surveyed"));
    station.surveyed = surveyed == "skin"       ? Surveyed::skin
                       : surveyed == "rib_face" ? Surveyed::rib_face
                                                : Surveyed::lining;
    const auto read_left = wall(named, both ? "both" : "left", heights);
    const auto read_right = both ? read_left : wall(named, "right", heights);
    if (!read_left || !read_right) return std::nullopt;
    station.left = *read_left;
    station.right = *read_right;
    return station;
  }

  bool heights_good(const std::vector<double>& heights, const Place& place,
                    const std::string& name) {
    if (heights.size() < 2) {
      report("vehicle.few_heights", place, name)
          .with("count", static_cast<double>(heights.size()), Unit::count);
      return false;
    }
    if (heights.front() != 0.0) {
      report("vehicle.not_from_floor", place, name).with("first", heights.front(), Unit::mm);
      return false;
    }
    for (std::size_t i = 1; i < heights.size(); ++i) {
      if (heights[i] - heights[i - 1] < kContact) {
        report("vehicle.heights_not_rising", place, name)
            .with("lower", heights[i - 1], Unit::mm)
            .with("next", heights[i], Unit::mm);
        return false;
      }
    }
    return true;
  }

  std::optional<std::vector<WallPoint>> wall(const Named& named, const std::string& field,
                                             const std::vector<double>& heights) {
    const std::vector<double>& widths = named.record.numbers(field);
    const Place& place = named.record.place(field);
    if (widths.size() != heights.size()) {
      report("vehicle.width_count", place, named.name)
          .with("list", field)
          .with("count", static_cast<double>(widths.size()), Unit::count)
          .with("heights", static_cast<double>(heights.size()), Unit::count);
      return std::nullopt;
    }
    std::vector<WallPoint> points;
    for (std::size_t i = 0; i < widths.size(); ++i) {
      // Only the ridge of the roof may lie on the centre line.
      if (widths[i] < 0.0 || (widths[i] < kContact && i + 1 < widths.size())) {
        report("vehicle.no_width", place, named.name)
            .with("height", heights[i], Unit::mm)
            .with("width", widths[i], Unit::mm);
        return std::nullopt;
      }
      points.push_back({heights[i], widths[i]});
    }
    return points;
  }

  /// Reports a range that is empty; true when it is not.
  bool rising(const Named& named, std::string_view low, std::string_view high) {
    const double from = named.record.number(low);
    const double to = named.record.number(high);
    if (to - from >= kContact) return true;
    report("vehicle.empty_range", named.record.place(high), named.name)
        .with("low_name", std::string(low))
        .with("low", from, Unit::mm)
        .with("high_name", std::string(high))
        .with("high", to, Unit::mm);
    return false;
  }

  /// Reports what reaches past the first or last station; true when it does not.
  bool along_stations(const std::string& name, const Place& place, double from, double to) {
    if (from >= vehicle_.x_min() - kSame && to <= vehicle_.x_max() + kSame) return true;
    report("vehicle.outside_stations", place, name)
        .with("from", from, Unit::mm)
        .with("to", to, Unit::mm)
        .with("first", vehicle_.x_min(), Unit::mm)
        .with("last", vehicle_.x_max(), Unit::mm);
    return false;
  }

  bool below_roof(const std::string& name, const Place& place, double x0, double x1, double top) {
    const double roof = lowest_roof(vehicle_, x0, x1);
    if (top <= roof) return true;
    report("vehicle.above_roof", place, name)
        .with("top", top, Unit::mm)
        .with("roof", roof, Unit::mm);
    return false;
  }

  /// How many copies a repeated entry asks for; 0 after a report.
  int copies(const Named& named) {
    const int count = static_cast<int>(named.record.number("count"));
    if (count > 1 && !named.record.has("pitch")) {
      report("vehicle.no_pitch", named.record.place("count"), named.name)
          .with("count", static_cast<double>(count), Unit::count);
      return 0;
    }
    return count;
  }

  bool new_name(const std::string& kind, const std::string& name, const Place& place) {
    if (names_.insert(kind + "." + name).second) return true;
    report("vehicle.same_name", place, name).with("kind", kind);
    return false;
  }

  static std::vector<VanSide> sides_of(const Record& record) {
    const std::string& side = record.text("side");
    if (side == "both") return {VanSide::left, VanSide::right};
    return {side == "left" ? VanSide::left : VanSide::right};
  }

  /// "bow", "bow_left" when it stands on both sides, "bow_left_2" in a row.
  static std::string copy_name(const Named& named, bool both, VanSide side, int index, int count) {
    std::string name = named.name;
    if (both) name += side == VanSide::left ? "_left" : "_right";
    if (count > 1) name += "_" + std::to_string(index + 1);
    return name;
  }

  void add_ribs(const Named& named) {
    const Record& record = named.record;
    const int count = copies(named);
    if (!rising(named, "from", "to")) return;
    const auto sides = sides_of(record);
    for (const VanSide side : sides) {
      for (int i = 0; i < count; ++i) {
        Rib rib;
        rib.name = copy_name(named, sides.size() > 1, side, i, count);
        rib.side = side;
        rib.x = record.number("x") + i * record.number_if("pitch").value_or(0.0);
        rib.width = record.number("width");
        rib.depth = record.number("depth");
        rib.from = record.number("from");
        rib.to = record.number("to");
        if (good_rib(rib, record)) vehicle_.ribs.push_back(rib);
      }
    }
  }

  bool good_rib(const Rib& rib, const Record& record) {
    const double from = rib.x - rib.width / 2.0;
    const double to = rib.x + rib.width / 2.0;
    if (!new_name("rib", rib.name, record.place()) ||
        !along_stations(rib.name, record.place("x"), from, to) ||
        !below_roof(rib.name, record.place("to"), from, to, rib.to)) {
      return false;
    }
    const double wall = least_half_width(vehicle_, rib.side, from, to, rib.from, rib.to);
    if (rib.depth < wall) return true;
    report("vehicle.rib_too_deep", record.place("depth"), rib.name)
        .with("depth", rib.depth, Unit::mm)
        .with("wall", wall, Unit::mm);
    return false;
  }

  void add_arches(const Named& named) {
    const Record& record = named.record;
    const double from = record.number("from");
    const double to = record.number("to");
    const double height = record.number("height");
    const double radius = record.number("radius");
    if (!rising(named, "from", "to") ||
        !along_stations(named.name, record.place("from"), from, to) ||
        !below_roof(named.name, record.place("height"), from, to, height)) {
      return;
    }
    const double largest = std::min(height, (to - from) / 2.0);
    if (radius > largest) {
      report("vehicle.arch_radius", record.place("radius"), named.name)
          .with("radius", radius, Unit::mm)
          .with("largest", largest, Unit::mm);
      return;
    }
    const auto sides = sides_of(record);
    for (const VanSide side : sides) {
      WheelArch arch{copy_name(named, sides.size() > 1, side, 0, 1),
                     side,
                     from,
                     to,
                     height,
                     record.number("half_width"),
                     radius};
      const double wall = least_half_width(vehicle_, side, from, to, 0.0, height);
      if (arch.half_width >= wall) {
        report("vehicle.arch_behind_wall", record.place("half_width"), arch.name)
            .with("half_width", arch.half_width, Unit::mm)
            .with("wall", wall, Unit::mm);
      } else if (new_name("arch", arch.name, record.place())) {
        vehicle_.arches.push_back(std::move(arch));
      }
    }
  }

  void add_opening(const Named& named) {
    const Record& record = named.record;
    const std::string& kind = record.text("kind");
    const bool rear = kind == "rear";
    if (rear == record.has("side")) {
      report(rear ? "vehicle.rear_has_side" : "vehicle.opening_side", record.place(), named.name);
      return;
    }
    Opening opening;
    opening.name = named.name;
    opening.kind = rear                ? OpeningKind::rear
                   : kind == "sliding" ? OpeningKind::sliding
                                       : OpeningKind::hinged;
    if (!rear) opening.side = record.text("side") == "left" ? VanSide::left : VanSide::right;
    opening.from = record.number("from");
    opening.to = record.number("to");
    opening.bottom = record.number("bottom");
    opening.top = record.number("top");
    if (!rising(named, "from", "to") || !rising(named, "bottom", "top")) return;
    const double x0 = rear ? vehicle_.x_min() : opening.from;
    const double x1 = rear ? vehicle_.x_min() : opening.to;
    if (!along_stations(named.name, record.place("from"), x0, x1) ||
        !below_roof(named.name, record.place("top"), x0, x1, opening.top)) {
      return;
    }
    vehicle_.openings.push_back(std::move(opening));
  }

  void add_joists(const Named& named) {
    const Record& record = named.record;
    const int count = copies(named);
    for (int i = 0; i < count; ++i) {
      Joist joist;
      joist.name = copy_name(named, false, VanSide::left, i, count);
      joist.across = record.text("runs") == "across";
      joist.at = record.number("at") + i * record.number_if("pitch").value_or(0.0);
      joist.width = record.number("width");
      if (new_name("joist", joist.name, record.place()) && place_joist(joist, record)) {
        vehicle_.joists.push_back(std::move(joist));
      }
    }
  }

  /// Gives the joist its ends and checks that it lies under the floor.
  bool place_joist(Joist& joist, const Record& record) {
    const double x0 = joist.across ? joist.at - joist.width / 2.0 : vehicle_.x_min();
    const double x1 = joist.across ? joist.at + joist.width / 2.0 : vehicle_.x_max();
    if (!along_stations(joist.name, record.place("at"), x0, x1)) return false;
    const double left = least_half_width(vehicle_, VanSide::left, x0, x1, 0.0, 0.0);
    const double right = -least_half_width(vehicle_, VanSide::right, x0, x1, 0.0, 0.0);
    joist.from = record.number_if("from").value_or(joist.across ? right : x0);
    joist.to = record.number_if("to").value_or(joist.across ? left : x1);
    if (joist.to - joist.from < kContact) {
      report("vehicle.empty_range", record.place("to"), joist.name)
          .with("low_name", "from")
          .with("low", joist.from, Unit::mm)
          .with("high_name", "to")
          .with("high", joist.to, Unit::mm);
      return false;
    }
    if (joist.across) return true;
    if (!along_stations(joist.name, record.place("from"), joist.from, joist.to)) return false;
    if (joist.at - joist.width / 2.0 >= right && joist.at + joist.width / 2.0 <= left) return true;
    report("vehicle.joist_beside_floor", record.place("at"), joist.name)
        .with("at", joist.at, Unit::mm)
        .with("right", right, Unit::mm)
        .with("left", left, Unit::mm);
    return false;
  }

  std::optional<Axle> read_axle(const Record& axles, const std::string& name) {
    if (!axles.has(name)) return std::nullopt;
    const Record& record = axles.table(name);
    Axle axle{record.number("x"), record.number("track"), record.number("limit"),
              record.number("empty")};
    if (axle.empty_kg > axle.limit_kg) {
      report("vehicle.axle_overloaded", record.place("empty"), "axle." + name)
          .with("empty", axle.empty_kg, Unit::kg)
          .with("limit", axle.limit_kg, Unit::kg);
    }
    return axle;
  }

  void read_axles() {
    if (document_.root.find("axle") == nullptr) return;
    const auto axles = evaluator_.record("axle");
    if (!axles) return;
    vehicle_.front_axle = read_axle(*axles, "front");
    vehicle_.rear_axle = read_axle(*axles, "rear");
    if (!vehicle_.front_axle || !vehicle_.rear_axle) return;
    const Axle& front = *vehicle_.front_axle;
    const Axle& rear = *vehicle_.rear_axle;
    if (front.x <= rear.x) {
      report("vehicle.axles_swapped", axles->table("front").place("x"), "axle.front")
          .with("front", front.x, Unit::mm)
          .with("rear", rear.x, Unit::mm);
    }
    const double empty = front.empty_kg + rear.empty_kg;
    if (vehicle_.gross_limit_kg > 0.0 && empty > vehicle_.gross_limit_kg) {
      report("vehicle.empty_over_gross", axles->place(), "axle")
          .with("empty", empty, Unit::kg)
          .with("limit", vehicle_.gross_limit_kg, Unit::kg);
    }
  }

  const Document& document_;
  Evaluator evaluator_;
  Findings findings_;
  Vehicle vehicle_;
  Record head_;
  std::set<std::string> names_;
};

}  // namespace

Result<Vehicle> read_vehicle(const Document& document) {
  return VehicleReader(document).read();
}

}  // namespace ribbay
