#pragma once

#include "bow_handle.hpp"
#include "cup_hinges.hpp"

#include <string>
#include <string_view>
#include <vector>

/// The galley in parts: galley.cpp reads its fields and divides its width, galley_carcass.cpp makes
/// what stands still, galley_drawers.cpp and galley_doors.cpp what moves,
/// galley_shelves.cpp and galley_holds.cpp what stands in it, galley_openings.cpp what is let into
/// its counter.
namespace ribbay::detail {

/// Room behind a finger pull for the fingers that hook into it (common practice, no source).
inline constexpr double kFingerRoom = 30.0;

/// One column of the galley. Its boards are shared with its neighbours, except beside a spacer.
using GalleyColumn = Bay;

/// Empty room beside a column, closed at the front.
struct GalleySpacer {
  std::string name;  ///< "before.first": after the field that asks for it
  double left = 0.0;
  double right = 0.0;
  std::string left_board;  ///< names; empty where the spacer ends the galley
  std::string right_board;
};

/// Everything that the parts of a galley have in common; module axes.
///
///     0 .. overhang .. + front thickness .. + buffer ............ back_face .. depth     (y)
///       counter   fronts                 room   sides and bottoms          back
///
///     0 .. toe_height .. + sheet ........................ ceiling .. + sheet .. + counter  (z)
///       toe space    bottom                               stretchers       counter
struct GalleyPlan {
  const Sheet* carcass = nullptr;
  const Sheet* back = nullptr;
  const Sheet* front = nullptr;
  const Sheet* drawer = nullptr;
  const Sheet* drawer_bottom = nullptr;
  const Sheet* counter = nullptr;
  const Finish* band = nullptr;    ///< or null
  const Handle* handle = nullptr;  ///< or null: fronts have finger pulls

  double front_face = 0.0;     ///< y of the fronts' outer faces
  double front_back = 0.0;     ///< y of their backs
  double carcass_front = 0.0;  ///< y of the sides' front edges
  double back_face = 0.0;      ///< y of the back panel's inner face
  double toe_height = 0.0;
  double floor = 0.0;        ///< z of the bottom boards' upper faces
  double ceiling = 0.0;      ///< z of the stretchers' undersides
  double carcass_top = 0.0;  ///< z of the counter's underside
  double fronts_top = 0.0;
  double gap = 0.0;     ///< between fronts
  double buffer = 0.0;  ///< behind them
  double stretcher = 0.0;  ///< width of the stretchers under the counter
  double dado = 0.0;    ///< depth of dados and rebates in the carcass
  double pull_width = 0.0;
  double pull_depth = 0.0;
  std::vector<GalleyColumn> columns;
  std::vector<GalleySpacer> spacers;
};

/// What the makers of a galley's parts work with.
struct GalleyWork : Carcass {
  const GalleyPlan& plan;

  AskedBy asked(const GalleyColumn& column, std::string_view field) const {
    return {*column.fields, request.name + ".columns." + column.key, field};
  }
  /// An input fault about a field of a column: its place, and "galley.columns.first.drawers" as
  /// subject.
  Finding fault(std::string code, const GalleyColumn& column, std::string_view field) const;
  /// Edge band all round a front, or on an edge at the front of the carcass.
  void band_front(Board& board) const;
  void band_front_edge(Board& board) const;
  /// True when the galley names an item; reports it as missing for `column` when it does not.
  bool names(const GalleyColumn& column, std::string_view needed_by,
             const std::string& field) const;
  /// The field whose change moves a column away from what its drawers and doors hit.
  std::string gives_way(const GalleyColumn& column) const;
};

void make_carcass(const GalleyWork& work);
void make_drawers(const GalleyWork& work, const GalleyColumn& column);
void make_door(const GalleyWork& work, const GalleyColumn& column);
void make_shelves(const GalleyWork& work, const GalleyColumn& column);
/// Equipment in a column, and the field that asks for it.
void make_held(const GalleyWork& work, const GalleyColumn& column);
Field galley_holds_field();
/// Equipment in the counter, once the carcass is there, and the field that asks for it.
void make_openings(const GalleyWork& work);
Field galley_openings_field();

/// Bores a front for its handle, and adds it; nullopt without one, or after
/// "galley.handle_no_room". `middle` lies on the front's face, `along` is an axis of it.
std::optional<HandlePlace> fit_handle(const GalleyWork& work, const GalleyColumn& column,
                                      Board& front, Vec3 middle, Vec3 along);

/// Cuts the finger pull into the top edge of a front, with its middle at `x`; reports one that does
/// not fit.
void cut_finger_pull(const GalleyWork& work, const GalleyColumn& column, Board& front, double x);

/// Heights of the hinges of a column's door, rising.
std::vector<double> hinge_heights(const GalleyPlan& plan, bool left_hung);

}  // namespace ribbay::detail
