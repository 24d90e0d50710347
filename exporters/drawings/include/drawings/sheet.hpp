#pragma once

#include "drawings/drawing.hpp"

#include <string>
#include <vector>

namespace ribbay {

// The empty page of a drawing: size, frame and title block. (A sheet of plywood is the catalogue's
// Sheet.)

enum class PageSize { a4, a3, a2, a1 };

/// What the title block says: the data fields of ISO 7200. Empty ones stay blank.
struct TitleBlock {
  std::string owner;  ///< legal owner
  std::string creator;
  std::string date;
  std::string number;  ///< identification number
  std::string title;
  std::string subtitle;  ///< supplementary title
  std::string type;      ///< "Part drawing"
  std::string material;
  std::string stock;
  std::string finish;
  std::string scale;
  std::string mass;
  std::string quantity;
  std::string status;
  std::string sheet;  ///< "1/2"
  bool first_angle = true;
  LengthStyle show = LengthStyle::millimetres;
};

/// A page with frame, grid references and centring marks (ISO 5457) and the title block in the
/// lower right corner of the frame (ISO 7200, 180 mm wide). A4 stands upright, the others lie.
Drawing new_page(PageSize size, const TitleBlock& block);

/// Area of the title block on such a page.
Rect title_area(const Drawing& drawing);

/// The largest scale of ISO 5455 that is not above `need`: 1, 1/2, 1/5, 1/10, ... and 2, 5, 10, ...
double scale_below(double need);
/// "1:10", "2:1".
std::string scale_text(double scale);
/// "Front view 1:10", under a view.
std::string figure_title(const std::string& view, double scale);

/// A red stamp at the top of the frame, NOT FOR CUTTING; the area is reserved.
void add_stamp(Drawing& drawing);

struct Column {
  std::string title;
  double width = 20.0;
  Align align = Align::left;
};

struct Table {
  std::vector<Column> columns;
  std::vector<std::vector<std::string>> rows;
  double height = 2.5;  ///< of letters
  double row = 5.5;     ///< height of a row
  bool upwards =
      false;  ///< heading at the foot, rows count upwards (ISO 7573, above a title block)
  double width() const;
  double total_height() const { return row * static_cast<double>(rows.size() + 1); }
};

/// Draws the table with its upper left corner at `corner`; what is too wide for its cell gets
/// smaller letters, and at last an ellipsis.
void add_table(Drawing& drawing, const Table& table, Vec2 corner);

/// Text fitted into `width`: letters of `height`, else smaller ones down to 1.8, else cut short.
void add_fitted(Drawing& drawing, const std::string& text, Vec2 at, double height, double width,
                Align align = Align::left);

}  // namespace ribbay
