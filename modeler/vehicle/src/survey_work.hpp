#pragma once

#include "survey_mend.hpp"
#include "survey_table.hpp"
#include "vehicle/survey.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

/// What the checks of a survey share.
namespace ribbay::detail {

/// By how much a sound van's sheet leaves a straight line between stations, or the mirror image of
/// its other side. Common practice, no source.
inline constexpr double kSheet = 3.0;
/// Share of the half width by which a van may narrow between its last two stations, and swell
/// between others where too few stations are there to tell. Common practice, no source.
inline constexpr double kTaper = 0.05;
/// Fewer readings than this in a station say nothing about each other.
inline constexpr std::size_t kLeastPoints = 4;
/// So many stations or fewer do not show which of them a slip is in, nor how the van narrows.
inline constexpr std::size_t kFewStations = 3;
/// More doubts than this mean that the survey as a whole is at fault.
inline constexpr int kMostDoubts = 40;

inline constexpr const char* kSides[] = {"left", "right"};

/// A survey under check. What one check finds wrong it sets right in the table, so that the next
/// one does not trip over it.
struct SurveyWork {
  const Vehicle& vehicle;
  const Document& document;
  SurveyTable table;
  Findings findings{};
};

// The checks, in the order in which they are called.
void check_station_order(SurveyWork& work);
void check_full_widths(SurveyWork& work);
void check_whole_stations(SurveyWork& work);
void check_single_readings(SurveyWork& work);
void check_diagonals(SurveyWork& work);
void check_rib_rows(SurveyWork& work);

Finding doubt(std::string code, Severity severity, std::string subject, const Node* written);
/// Adds the guess at how a reading went wrong, where there is one.
void say(Finding& finding, const std::optional<Mend>& mend);

/// The largest uncertainty of a half width of the station.
double worst_uncertainty(const Readings& station);
/// What a reading may be out by that says nothing of it itself: the worst half width's uncertainty.
double one_reading(const SurveyTable& table);

/// What a check sees of the survey.
class SurveyCheck {
 public:
  explicit SurveyCheck(SurveyWork& work)
      : vehicle_(work.vehicle),
        document_(work.document),
        table_(work.table),
        findings_(work.findings) {}

 protected:
  const Node* written(std::size_t station, const std::string& field,
                      std::optional<std::size_t> index = std::nullopt) const;
  /// The half width as written: on its own side, for both, or by the width from wall to wall.
  const Node* written_width(std::size_t station, int side, std::size_t index) const;
  static std::string subject(const Readings& station) { return "station." + station.name; }

  /// Left minus right as the stations beside station i have it; empty when they cannot be compared.
  std::vector<double> expected_differences(std::size_t i) const;
  /// As neighbours(), but an end station has the nearest one only: nothing is drawn out.
  std::vector<Neighbour> beside(std::size_t i) const;

  const Vehicle& vehicle_;
  const Document& document_;
  SurveyTable& table_;
  Findings& findings_;
};

}  // namespace ribbay::detail
