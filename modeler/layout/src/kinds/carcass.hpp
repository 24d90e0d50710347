#pragma once

#include "joinery.hpp"

#include <string>
#include <string_view>
#include <vector>

/// What galley, locker and bench make alike: openings between upright boards, boards screwed by
/// their ends, bought things that are screwed on.
namespace ribbay::detail {

/// Cuts reach this far past a board's edge, so that the edge is never in doubt.
inline constexpr double kPast = 1.0;

/// Depth of a dado, rebate or groove: about a third of the thickness, in steps of half a millimetre
/// (common practice, no source).
double dado_depth(const Sheet& sheet);

/// What the makers of a carcass work with.
struct Carcass {
  const ModuleRequest& request;
  Workshop& shop;
  Joinery& joinery;

  const Sheet& sheet(const std::string& key) const { return entry(request.catalogue.sheets, key); }
  /// "left" or "right" as the module is called there.
  std::string side(bool left) const { return left ? request.left() : request.right(); }
};

/// The field that asks for something, for messages.
struct AskedBy {
  const Record& fields;
  std::string path;             ///< "galley.columns.first"
  std::string_view field = {};  ///< empty: the table as a whole
};
/// An input fault at that field, with its path as subject.
Finding fault(std::string code, const AskedBy& asked);
/// True when the module names a catalogue item; reports it as missing for what asked when it does
/// not.
bool names_item(const Carcass& carcass, const AskedBy& asked, const std::string& field);

/// Reports "carcass.too_small" when the module's `field` is less than it needs.
bool is_too_small(const Carcass& carcass, const char* field, double needed, double measured);

/// Places from one end to the other, evenly spaced by at most `pitch`; the middle when the ends
/// meet.
std::vector<double> spread(double from, double to, double pitch);

/// One opening between upright boards, which it shares with its neighbours.
struct Bay {
  std::string key;
  const Record* fields = nullptr;
  double left = 0.0;  ///< clear opening between its boards, module x
  double right = 0.0;
  std::string left_board;  ///< names
  std::string right_board;
  bool left_free = false;  ///< the other side of that board can be reached: no bay stands there
  bool right_free = false;
  double front_left = 0.0;  ///< where its fronts end
  double front_right = 0.0;
  double opening() const { return right - left; }
};

/// The entries of a keyed field, one bay each.
std::vector<Bay> bays_of(const Record& fields, const char* field);

/// Divides the module's width: boards of thickness `t` and empty spacers first, then the bays' own
/// widths and shares. `spacers[i]` lies at the left of bay i, the last one at the right of all; a
/// bay beside a spacer has a board of its own there. Reports "carcass.widths_do_not_fit".
bool divide_width(const Carcass& carcass, const char* field, std::vector<Bay>& bays,
                  const std::vector<double>& spacers, double t);

/// Names the boards between the bays, and ends the fronts: full overlay, in the middle of a board
/// that two fronts share.
void divide_fronts(const Carcass& carcass, std::vector<Bay>& bays,
                   const std::vector<double>& spacers, double t, double gap);

/// Where a screw enters the end of a board.
struct EndScrew {
  std::string place;  ///< "front": ends its name
  double y = 0.0;
  double z = 0.0;
};
/// Screws through an upright into the end of a board beside it; returns their ids.
std::vector<std::string> screw_end(const Carcass& carcass, const std::string& upright, bool at_left,
                                   const std::string& into, const std::vector<EndScrew>& screws);

/// A fitting on a board, in the opening that it needs, its holes filled with screws of
/// `screw_field`; returns all ids, the fitting's first. A hole named "head" is on what a stay
/// holds, and is left to its maker's template.
std::vector<std::string> screw_on(const Carcass& carcass, const std::string& name,
                                  const Fitting& fitting, const Frame& frame,
                                  const std::string& board, const std::string& screw_field,
                                  bool folded = false);

/// Where a stay lies against the inside of a carcass.
struct StayPlace {
  std::string name;
  std::string board;  ///< that carries it
  Vec3 middle;        ///< of its length, on that board's face
  Vec3 out;           ///< unit axis: away from the board
  Vec3 along;         ///< unit axis: its length
  double room = 0.0;  ///< for its length
};
/// Adds the module's `stay`; returns all ids. Reports "carcass.item_missing" for its screws and
/// "carcass.stay_no_room".
std::vector<std::string> add_stay(const Carcass& carcass, const AskedBy& asked,
                                  const StayPlace& place);

}  // namespace ribbay::detail
