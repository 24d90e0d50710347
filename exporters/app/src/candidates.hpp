#pragma once

#include "base/output_file.hpp"
#include "clearance/memo.hpp"
#include "layout/project.hpp"

#include <optional>
#include <string>
#include <vector>

namespace ribbay::detail {

/// One of several things that could stand in a place of any kind of module, tried there.
struct Candidate {
  std::string place;  ///< id of what stands there: "rack/fridge"
  std::string key;    ///< of the catalogue
  std::string title;
  std::optional<Finding> fault;  ///< the first thing that is wrong with it there; nullopt: it fits
  std::optional<double> gap;  ///< clear distance to what is nearest, mm; nullopt: kLooked or more
  double mass_kg = 0.0;
  bool built = false;

  bool fits() const { return !fault; }
};

/// Gaps wider than this are not told apart, mm.
inline constexpr double kLooked = 200.0;

struct Trials {
  std::vector<Candidate> rows;        ///< by place as in the files, then as listed there
  std::vector<std::string> settings;  ///< those given, and which candidates are to be built
};

/// Lays the project out and checks it once for each candidate of each place that has several; the
/// other places hold their item, or their first candidate, meanwhile. An error that comes up with
/// every candidate of a place and does not name it is not held against them. Where no `item` is
/// given, the first candidate that fits is to be built, or the first of all. A place that is left
/// out by its `when` has no rows.
Trials try_candidates(const std::string& file, const Inputs& inputs,
                      const std::vector<std::string>& settings, int jobs, Memo& memo);

/// Whether anything can be learned by comparing them: not where the same is wrong with all.
bool candidates_differ(const std::vector<Candidate>& rows);

/// For the screen; empty without candidates.
std::string candidates_page(const std::vector<Candidate>& rows, LengthStyle style);

/// shop/candidates.csv. Columns: place, candidate, title, fits, first finding, clear gap, mass_kg,
/// built.
OutputFile candidates_file(const std::vector<Candidate>& rows, LengthStyle style);

}  // namespace ribbay::detail
