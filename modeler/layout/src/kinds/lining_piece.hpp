#pragma once

#include "lining_sheet.hpp"
#include "lining_surface.hpp"
#include "workshop.hpp"

#include <string>
#include <vector>

namespace ribbay::detail {

/// An opening as written, in module axes.
struct LiningOpening {
  std::string name;
  const Record* fields = nullptr;
  double x0 = 0.0;
  double x1 = 0.0;
  double low = 0.0;  ///< along the section, or along the sheet when `on_sheet`
  double high = 0.0;
  bool on_sheet = false;
};

/// What all pieces of a lining share.
struct LiningPlan {
  const ModuleRequest& request;
  const LinedSurface& surface;
  const Sheet& sheet;
  double gap = 0.0;          ///< kept from what stands nearest behind it
  double bend_radius = 0.0;  ///< inside
  std::vector<LiningOpening> openings{};
};

/// One panel of a lining, from x0 to x1.
class LiningPiece {
 public:
  LiningPiece(const LiningPlan& plan, Workshop& shop, std::string name, double x0, double x1,
              Allowance allowance);

  /// Makes the panel with its openings and what holds it, or reports why it cannot be made.
  void make();

 private:
  struct Fixing {
    const Holder* holder = nullptr;
    double x = 0.0;  ///< in module axes
    CurvePoint on;
    double distance = 0.0;  ///< from the panel's back to the holder, square to the panel
  };

  std::optional<LiningCurve> shape(const std::vector<RoomPoint>& line);
  bool bends_well(const LiningCurve& curve, double least);
  Frame flat_frame(std::size_t flat) const;
  void add_opening(const LiningOpening& opening);
  std::optional<double> run_on_flat(const LiningOpening& opening, double place,
                                    std::size_t& flat) const;
  void add_hatch(const LiningOpening& opening, std::size_t flat, Vec2 middle, Vec2 size);
  double nearest_flat(double s) const;
  std::vector<Fixing> fixings(const std::vector<Holder>& holders) const;
  std::optional<double> on_holder(const Holder& holder) const;
  bool in_opening(double x, double s) const;
  void hold();
  void add_fitting(const Fixing& fixing, const std::string& name);
  void add_screw(const Fixing& fixing, const std::string& name);
  void check_distances(const std::vector<Fixing>& all);
  void check_magnets(const std::vector<Fixing>& all);
  void add_panel();
  void report(const char* code, const Place& place, double measured, double required);

  const LiningPlan& plan_;
  const ModuleRequest& r_;
  Workshop& shop_;
  std::string name_;
  double x0_;
  double x1_;
  Allowance allowance_;
  std::optional<LiningCurve> curve_;
  FoldedSheet folded_;
};

}  // namespace ribbay::detail
