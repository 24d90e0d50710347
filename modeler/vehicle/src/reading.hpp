#pragma once

#include "spec/evaluator.hpp"
#include "vehicle/vehicle.hpp"

#include <set>
#include <string>
#include <string_view>
#include <vector>

/// What the readers of the single tables of a vehicle file share.
namespace ribbay::detail {

/// A named table that read without fault.
struct Named {
  std::string name;
  Record record;
};

class Reading {
 public:
  Reading(const Document& document, const ReadFile& read)
      : document_(document), read_(read), evaluator_(document, {}) {}

  Evaluator& evaluator() { return evaluator_; }
  Vehicle& vehicle() { return vehicle_; }
  /// The [vehicle] table; only after read_head() succeeded.
  const Record& head() const { return head_; }
  bool has_table(std::string_view name) const { return document_.root.find(name) != nullptr; }
  /// Where a top-level table stands, or the file when it is missing.
  const Place& place(std::string_view table) const;

  /// Makes every table known before any is read, so that expressions may name them in any order.
  void declare_all();
  bool read_head();

  /// The names of the tables of one kind, whether they read well or not.
  std::vector<std::string> names_in(std::string_view kind) const;
  /// The bytes of a file that the document names.
  Result<std::string> input(const std::string& path) const;

  /// One fault at one place is told once, however many stations, sides or copies meet it: the first
  /// of them is its subject.
  Finding& report(std::string code, const Place& place, std::string subject);
  void report(Finding finding) { findings_.push_back(std::move(finding)); }
  /// A note or a warning: it goes with the vehicle and hinders nothing.
  void remark(Finding finding) { vehicle_.remarks.push_back(std::move(finding)); }
  /// How many findings there are so far: the same number before and after means no fault.
  std::size_t faults() const { return findings_.size() + evaluator_.findings().size(); }
  /// The vehicle, or every fault.
  Result<Vehicle> finish();

  /// The named tables of one kind that read without fault, in file order. Call it once for a kind.
  std::vector<Named> records(const std::string& table);

  // Checks that report and answer false when they fail.

  /// `low` is less than `high` by more than kContact.
  bool rising(const Named& named, std::string_view low, std::string_view high);
  /// Nothing reaches past the first or last station.
  bool along_stations(const std::string& name, const Place& place, double from, double to);
  bool below_roof(const std::string& name, const Place& place, double x0, double x1, double top);
  /// No other one of this kind has the name.
  bool new_name(const std::string& kind, const std::string& name, const Place& place);

  /// How many copies a repeated entry asks for; 0 after a report.
  int copies(const Named& named);

 private:
  const Document& document_;
  const ReadFile& read_;
  Evaluator evaluator_;
  Findings findings_;
  Finding again_;  ///< the last one that was told before
  Vehicle vehicle_;
  Record head_;
  std::set<std::string> names_;
};

std::vector<VanSide> sides_of(const Record& record);

/// "bow", "bow_left" when it stands on both sides, "bow_left_2" in a row.
std::string copy_name(const Named& named, bool both, VanSide side, int index, int count);

/// A list with one value for each height, or one for all, spread over `heights` of them; nullopt
/// after a report.
std::optional<std::vector<double>> one_or_each(Reading& reading, const std::string& name,
                                               const Record& record, const std::string& field,
                                               std::size_t heights);

/// Heights that begin at the floor and rise; false after a report.
bool heights_good(Reading& reading, const std::string& name, const std::vector<double>& heights,
                  const Place& place);

/// The stations as measured, rising x.
struct ListedStation {
  Station station;
  Record record;
};
struct StationList {
  std::vector<ListedStation> stations;
  bool good = false;  ///< none had a fault, and there are enough
};
StationList list_stations(Reading& reading);

/// The ribs as written, not yet checked against the stations.
struct ListedRib {
  Rib rib;
  std::size_t table = 0;  ///< which of the list's tables says so
};
struct RibList {
  std::vector<Named> tables;
  std::vector<ListedRib> ribs;
  bool complete = true;  ///< every table of a rib read without fault
};
RibList list_ribs(Reading& reading);

/// Brings stations that were measured to different surfaces to the skin; false after a report.
bool bring_to_one_surface(Reading& reading, StationList& stations, const RibList& ribs);

/// The readers of the other tables, in the order in which they are called. What is checked against
/// the stations waits for them: with stations_good false only the tables themselves are checked.
void read_diagonals(Reading& reading, const StationList& measured);
void check_ribs(Reading& reading, const RibList& ribs);
void read_bows(Reading& reading, bool stations_good);
void read_arches(Reading& reading, bool stations_good);
void read_openings(Reading& reading, bool stations_good);
void read_channels(Reading& reading, bool stations_good);
void read_floor(Reading& reading, bool head_good);
void read_joists(Reading& reading, bool stations_good);
void read_hard_points(Reading& reading, bool stations_good);
void read_no_drill(Reading& reading, bool stations_good);
void read_axles(Reading& reading);

}  // namespace ribbay::detail
