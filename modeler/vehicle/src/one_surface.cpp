#include "base/tolerance.hpp"
#include "loft.hpp"
#include "reading.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

const char* word(Surveyed surveyed) {
  return surveyed == Surveyed::skin       ? "skin"
         : surveyed == Surveyed::rib_face ? "rib_face"
                                          : "lining";
}

/// The rib on `side` nearest to x of those that pass the height; without a height, of all.
const Rib* nearest_rib(const RibList& ribs, VanSide side, double x, std::optional<double> z) {
  const Rib* nearest = nullptr;
  for (const auto& [rib, table] : ribs.ribs) {
    if (rib.side != side || (z && (*z < rib.from || *z > rib.to))) continue;
    if (nearest == nullptr || std::abs(rib.x - x) < std::abs(nearest->x - x)) nearest = &rib;
  }
  return nearest;
}

/// Moves the stations that were not measured to the skin out to it.
class ToSkin {
 public:
  ToSkin(Reading& reading, StationList& list, const RibList& ribs)
      : reading_(reading), list_(list), ribs_(ribs) {}

  bool run() {
    const std::size_t before = reading_.faults();
    for (ListedStation& one : list_.stations) {
      if (one.station.surveyed == Surveyed::skin) continue;
      if (const auto behind = behind_of(one)) move_out(one, *behind);
    }
    return reading_.faults() == before;
  }

 private:
  /// How far the skin lies behind each point.
  struct Behind {
    std::vector<double> left;
    std::vector<double> right;
  };

  std::optional<Behind> behind_of(const ListedStation& one) {
    if (one.record.has("behind")) {
      const auto given =
          one_or_each(reading_, one.station.name, one.record, "behind", one.station.left.size());
      if (!given) return std::nullopt;
      return Behind{*given, *given};
    }
    if (one.station.surveyed == Surveyed::lining) {
      report_missing(one, "vehicle.behind_missing");
      return std::nullopt;
    }
    Behind behind;
    for (const VanSide side : {VanSide::left, VanSide::right}) {
      if (nearest_rib(ribs_, side, one.station.x, {}) == nullptr) {
        // A rib whose table has a fault of its own may be the one that is missing here.
        if (ribs_.complete) {
          report_missing(one, "vehicle.no_rib_behind")
              .with("side", side == VanSide::left ? "left" : "right");
        }
        return std::nullopt;
      }
      for (const WallPoint& p : points(one.station, side)) {
        // Between and above the ribs the tape has reached the skin.
        const Rib* rib = nearest_rib(ribs_, side, one.station.x, p.z);
        (side == VanSide::left ? behind.left : behind.right)
            .push_back(rib != nullptr ? rib->depth : 0.0);
      }
    }
    return behind;
  }

  Finding& report_missing(const ListedStation& one, std::string code) {
    const auto other = std::ranges::find_if(list_.stations, [&](const ListedStation& station) {
      return station.station.surveyed != one.station.surveyed || station.record.has("behind");
    });
    return reading_.report(std::move(code), one.record.place(), one.station.name)
        .with("surveyed", word(one.station.surveyed))
        .with("other", other->station.name);
  }

  static void move_out(ListedStation& one, const Behind& behind) {
    Station& station = one.station;
    const auto move = [&](std::vector<WallPoint>& wall, const std::vector<double>& by) {
      for (std::size_t i = 0; i < wall.size(); ++i) {
        if (wall[i].half_width < kContact) continue;  // the ridge stays on the centre line
        wall[i].half_width += by[i];
        if (!station.full.empty()) station.full[i] += by[i];
      }
    };
    move(station.left, behind.left);
    move(station.right, behind.right);
    const double above = one.record.number("above");
    station.left.back().z += above;
    station.right.back().z += above;
    station.surveyed = Surveyed::skin;
  }

  Reading& reading_;
  StationList& list_;
  const RibList& ribs_;
};

/// A station of the skin has nothing behind it.
void check_skin(Reading& reading, const StationList& list) {
  for (const auto& [station, record] : list.stations) {
    if (station.surveyed != Surveyed::skin) continue;
    for (const char* field : {"behind", "above"}) {
      if (!record.given(field)) continue;
      reading.report("vehicle.behind_skin", record.place(field), station.name).with("field", field);
    }
  }
}

}  // namespace

bool bring_to_one_surface(Reading& reading, StationList& list, const RibList& ribs) {
  const std::size_t before = reading.faults();
  check_skin(reading, list);
  if (reading.faults() != before) return false;
  const bool same = std::ranges::all_of(list.stations, [&](const ListedStation& one) {
    return one.station.surveyed == list.stations.front().station.surveyed &&
           !one.record.has("behind");
  });
  return same || ToSkin(reading, list, ribs).run();
}

}  // namespace ribbay::detail
