#include "scan_remarks.hpp"

#include "base/text.hpp"
#include "loft.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

/// Rims up to this size are gaps between triangles, not holes, mm.
constexpr double kSmallestHole = 30.0;
/// A picked point further off the floor than this was picked wrong, mm.
constexpr double kPickedWrong = 15.0;

Finding remark(std::string code, Severity severity, const Place& place, std::string subject) {
  Finding finding;
  finding.code = std::move(code);
  finding.severity = severity;
  finding.status = severity == Severity::note ? Status::pass : Status::fail;
  finding.place = place;
  finding.subjects = {std::move(subject)};
  return finding;
}

/// Holes of the room. The edges where the scan ends, such as the open rear, are as large as the van
/// itself.
std::vector<Hole> holes_in(const ScanMesh& mesh) {
  std::vector<Hole> holes = rims(mesh);
  const Vec3 room = bounds(mesh).size();
  std::erase_if(holes, [&](const Hole& hole) {
    const Vec3 size = hole.box.size();
    const bool end = (size.y > room.y / 2 && size.z > room.z / 2) || size.x > 0.8 * room.x;
    return end || length(size) < kSmallestHole;
  });
  std::ranges::stable_sort(holes, std::ranges::greater{},
                           [](const Hole& hole) { return length(hole.box.size()); });
  return holes;
}

/// "left at x = 760: heights 0 and 230", the stations with unseen points in words.
std::string unseen_places(const std::vector<ScannedSection>& sections) {
  std::vector<std::string> places;
  for (const ScannedSection& section : sections) {
    for (const auto& [side, points] :
         {std::pair{"left", &section.left}, std::pair{"right", &section.right}}) {
      std::vector<std::string> heights;
      for (const ScannedPoint& p : *points) {
        if (!p.seen) heights.push_back(rounded_text(p.z, 0));
      }
      if (heights.empty()) continue;
      places.push_back("x = " + rounded_text(section.x, 0) + " " + side +
                       ": z = " + join(heights, ", "));
    }
  }
  constexpr std::size_t kMost = 6;
  if (places.size() > kMost) {
    const std::string more = std::to_string(places.size() - kMost) + " more";
    places.resize(kMost);
    places.push_back(more);
  }
  return join(places, "; ");
}

struct SeenCount {
  std::size_t points = 0;
  std::size_t seen = 0;
  double uncertainty = 0.0;
};

SeenCount count_seen(const std::vector<ScannedSection>& sections) {
  SeenCount count;
  for (const ScannedSection& section : sections) {
    for (const auto* points : {&section.left, &section.right}) {
      for (const ScannedPoint& p : *points) {
        ++count.points;
        count.seen += p.seen;
        if (!p.seen) count.uncertainty = std::max(count.uncertainty, p.uncertainty);
      }
    }
  }
  return count;
}

/// Half width of a scanned wall at a height, where the scan saw both points beside it and the wall
/// stands upright enough to be taped.
std::optional<ScannedPoint> scanned_at(const std::vector<ScannedPoint>& points, double z) {
  for (std::size_t i = 0; i + 1 < points.size(); ++i) {
    const ScannedPoint& low = points[i];
    const ScannedPoint& high = points[i + 1];
    if (z < low.z || z > high.z || !low.seen || !high.seen) continue;
    if (std::abs(high.half_width - low.half_width) > high.z - low.z) return std::nullopt;
    const double share = (z - low.z) / (high.z - low.z);
    return ScannedPoint{z, std::lerp(low.half_width, high.half_width, share),
                        std::max(low.uncertainty, high.uncertainty), true};
  }
  return std::nullopt;
}

double counted(std::size_t number) {
  return static_cast<double>(number);
}

}  // namespace

void remark_scan(Reading& reading, const Record& record, const CleanedScan& cleaned,
                 const Alignment& alignment, const std::vector<ScannedSection>& sections,
                 double uncertainty) {
  const Place& place = record.place("file");
  const std::string& file = record.text("file");
  const auto note = [&](const char* code) { return remark(code, Severity::note, place, file); };
  reading.remark(note("scan.placed")
                     .with("noise", alignment.floor_noise, Unit::mm)
                     .with("picks", alignment.picks_off, Unit::mm)
                     .with("skew", std::abs(alignment.sill_skew), Unit::mm));
  if (alignment.picks_off > std::max(kPickedWrong, 2 * uncertainty)) {
    reading.remark(remark("scan.picks_off", Severity::warning, record.place("points"), file)
                       .with("measured", alignment.picks_off, Unit::mm)
                       .with("noise", alignment.floor_noise, Unit::mm));
  }
  if (cleaned.strays > 0) {
    reading.remark(note("scan.strays")
                       .with("count", counted(cleaned.strays), Unit::count)
                       .with("triangles", counted(cleaned.stray_triangles), Unit::count));
  }
  if (const std::vector<Hole> holes = holes_in(cleaned.mesh); !holes.empty()) {
    Finding finding = note("scan.holes")
                          .with("count", counted(holes.size()), Unit::count)
                          .with("size", length(holes.front().box.size()), Unit::mm);
    finding.at = holes.front().box.centre();
    reading.remark(std::move(finding));
  }
  if (const SeenCount count = count_seen(sections); count.seen < count.points) {
    reading.remark(note("scan.not_seen")
                       .with("points", counted(count.points), Unit::count)
                       .with("seen", counted(count.seen), Unit::count)
                       .with("uncertainty", count.uncertainty, Unit::mm)
                       .with("where", unseen_places(sections)));
  }
}

void remark_tape(Reading& reading, const Station& taped, const ScannedSection& scanned) {
  double worst = 0.0;
  std::optional<Finding> finding;
  for (const VanSide side : {VanSide::left, VanSide::right}) {
    const bool left = side == VanSide::left;
    for (const WallPoint& p : points(taped, side)) {
      const auto seen = scanned_at(left ? scanned.left : scanned.right, p.z);
      if (!seen) continue;
      const double off = std::abs(seen->half_width - p.half_width);
      if (off <= worst || off <= p.uncertainty + seen->uncertainty) continue;
      worst = off;
      finding = remark("scan.tape_differs", Severity::note, {}, taped.name)
                    .with("measured", off, Unit::mm)
                    .with("side", left ? "left" : "right")
                    .with("height", p.z, Unit::mm);
    }
  }
  if (!finding) return;
  finding->place = reading.place("station");
  reading.remark(std::move(*finding));
}

}  // namespace ribbay::detail
