#pragma once

#include "bench/bench_options.hpp"
#include "drawings/drawings.hpp"

#include <functional>
#include <string>
#include <vector>

/// Pages for an ordinary printer, filled from the top down.
namespace ribbay::detail {

inline constexpr Pens kBenchPens{0.7, 0.35};
inline constexpr double kFigure = 5.0;  ///< height of sizes and positions
inline constexpr double kBig = 7.0;     ///< of what is sawn
inline constexpr double kWord = 3.5;    ///< of everything else
inline constexpr double kTick = 4.5;    ///< side of a box to tick
inline constexpr double kRow = 8.0;     ///< of figures with boxes

/// The empty page: home printers leave up to 6 mm blank, the frame leaves 12.
Drawing print_page(Paper paper, const std::string& title);

void add_tick(Drawing& page, Vec2 lower_left);
/// Boxes in a row or several, as many as fit `width`, from the upper left corner; returns the
/// height.
double add_ticks(Drawing& page, std::size_t count, Vec2 corner, double width);
double ticks_height(std::size_t count, double width);

/// What was drawn on a page since it was `before`: the edges of its ink.
Rect inked_since(const Drawing& page, const Drawing& before);

/// The largest letters of 7, 5, 3.5 and 2.5 mm in which `text` fits `width`; smaller ones if need
/// be.
void add_sized(Drawing& page, const std::string& text, Vec2 at, double largest, double width,
               Align align = Align::left);

/// The ids of parts made alike, of more than `most` the number: "rack/rail.front, and 3 more".
std::string ids_text(const Layout& layout, const PartType& type, std::size_t most);

/// Fills pages of one section of the set.
class Pager {
 public:
  Pager(const Layout& layout, const BenchOptions& options, std::string heading, std::string file,
        std::string what);

  double left() const { return page_.frame.lo.x; }
  double width() const { return page_.frame.width(); }
  double y() const { return y_; }  ///< upper edge of what is free
  double room() const { return y_ - page_.frame.lo.y; }
  double full_room() const { return top_ - page_.frame.lo.y; }
  Drawing& page() { return page_; }
  /// Nothing but its heading: to try things out on.
  const Drawing& blank() const { return blank_; }
  double top() const { return top_; }  ///< y() of a blank page
  bool untouched() const { return y_ == top_; }

  /// Turns the page when less than `height` is left. What goes on then says so: `continued`.
  void need(double height, const std::string& continued = {});
  void down(double by) { y_ -= by; }
  void turn();
  /// Puts what `draw` draws from the corner given under the heading of every page; it returns its
  /// height. Before anything else.
  void head(const std::function<double(Drawing&, Vec2 corner)>& draw);

  std::vector<SetPage> take();

 private:
  std::string file_;
  std::string what_;
  Drawing blank_;
  Drawing page_;
  double top_ = 0.0;
  double y_ = 0.0;
  std::vector<SetPage> pages_;
};

/// Writes "3 / 20" in the heads and gives the pages their paths.
void number_pages(std::vector<SetPage>& pages);

/// Something to do, and where: each item has a box of its own; without items the words have one.
struct Task {
  std::string words;
  std::vector<std::string> items{};
};
double height_of(const Task& task, double width);
void add_task(Pager& pages, const Task& task, const std::string& continued);

}  // namespace ribbay::detail
