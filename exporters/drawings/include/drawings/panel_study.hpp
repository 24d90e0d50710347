#pragma once

#include "drawings/hole_series.hpp"
#include "drawings/sheet.hpp"
#include "drawings/visible_lines.hpp"
#include "layout/layout.hpp"

#include <string>
#include <vector>

/// A panel as its drawing sees it: square on, measured from the lower left corner of its blank.
namespace ribbay {

struct CornerMark {
  Vec2 at;
  double radius = 0.0;
};

struct CutMark {
  Rect area;  ///< inside the panel
  CutRole role = CutRole::dado;
  double depth = 0.0;
  bool through = false;
  bool front = true;     ///< worked from the face shown
  double radius = 0.0;   ///< of its corners, when they are rounded
  bool round = false;    ///< a circle: `radius` is its own, and its centre places it
  bool in_edge = false;  ///< open to neither face, as the groove that a tongue goes into
  double below = 0.0;    ///< of such a one: from face A to its nearer side
  double into = 0.0;     ///< and how far it goes into the edge; `depth` is its width
  std::vector<CornerMark> corners{};  ///< of one askew, which its area does not tell
  std::string first_corner{};         ///< as the page names them
  std::string last_corner{};
  std::string id;
};

/// A line that the blank is bent along.
struct BendMark {
  Vec2 a;
  Vec2 b;
  double angle = 0.0;   ///< radians, without sign
  bool towards = true;  ///< towards who looks at face A
  double radius = 0.0;  ///< inside
};

/// Which way is up in the picture of a panel.
enum class PanelUp {
  up,      ///< as it stands in its module
  behind,  ///< it lies there: the module's front is below
  length,  ///< neither, or no module: its length lies
};

struct PanelStudy {
  ViewFrame view;  ///< in shape coordinates, looking at face A
  Rect picture;    ///< of the blank, in the view
  PanelUp up = PanelUp::length;
  bool upright = false;       ///< its length runs upwards
  bool behind = false;        ///< face A is the part's back
  std::vector<Vec2> outline;  ///< its corners, in the order of Covering::edges
  std::vector<CutMark> cuts;
  std::vector<PanelHole> holes;
  std::vector<CornerMark> corners;  ///< of the outline, when it is no plain rectangle
  bool round = false;               ///< the outline is a circle; then it has no corners
  std::vector<BendMark> bends;      ///< of a blank
  double thickness = 0.0;
  double width() const { return picture.width(); }
  double height() const { return picture.height(); }
};

/// Neither along nor across, from one corner to the next.
bool slanted(Vec2 from, Vec2 to);

/// Right through, its inside corners without a radius.
bool is_sharp(const CutMark& cut);

/// Whether there is wood at the lower left corner of the blank, which positions are measured from.
bool has_datum_corner(const PanelStudy& panel);

/// What is sawn and drilled: the part itself, or the blank of one that is bent.
Shape cut_shape(const Part& part);

/// A part that is no member, in the one pose that all papers show it in, and so with the corner
/// that all count from: as it stands in its module; of what lies there the module's front is below.
/// Face A is the face of the sheet, or its back when most of the work is there.
PanelStudy study_panel(const Layout& layout, const Part& part);

/// How finely a panel is drawn at a scale.
FacetOptions panel_detail(double scale);
/// What is seen of face A, hidden lines too, from the lower left corner of the blank, mm; its bores
/// only where `bored`.
Drawn face_lines(const Part& part, const PanelStudy& panel, double scale, bool bored = true);

/// A face of a PanelHole in words: "A", "left".
std::string face_text(const std::string& face);

/// "Dado, 6 deep", "Cut-out through, R20", "Cut-out Ø60 through", "Groove, 4 deep, face B",
/// "Groove in the edge, 3.5 wide, 6.5 deep, 3 from face A".
std::string cut_text(const CutMark& cut, LengthStyle show);

/// Whether another cut of the panel is the same but in the other face: both are told in one.
bool has_twin(const CutMark& cut, const std::vector<CutMark>& cuts);

Table cut_table(const std::vector<CutMark>& cuts, LengthStyle show);
Table hole_table(const std::vector<HoleSeries>& series, LengthStyle show);
Table bend_table(const std::vector<BendMark>& bends, LengthStyle show);
Table corner_table(const std::vector<CornerMark>& corners, LengthStyle show);

}  // namespace ribbay
