// Templates as they are printed: read back from the SVG and the PDF, not from what drew them.
#include "../drawings/samples.hpp"
#include "bench/templates.hpp"
#include "drawings/audit.hpp"
#include "pdf/pdf.hpp"
#include "projects.hpp"
#include "temporary_folder.hpp"

#include <array>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <iterator>
#include <numbers>
#include <set>
#include <sstream>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

/// Points along the strokes of one width, in mm from the lower left corner of the paper, at most
/// `step` apart. Reads the path data of our SVG: M, L and circular A, absolute.
std::vector<std::vector<Vec2>> strokes(const std::string& svg, const std::string& width,
                                       double height, double step = 0.5) {
  std::vector<std::vector<Vec2>> out;
  const std::string begin = "<path stroke-width=\"" + width + "\" d=\"";
  for (std::size_t at = svg.find(begin); at != std::string::npos; at = svg.find(begin, at + 1)) {
    std::size_t i = at + begin.size();
    const auto number = [&] {
      while (svg[i] == ' ' || svg[i] == ',') ++i;
      std::size_t used = 0;
      const double value = std::stod(svg.substr(i, 24), &used);
      i += used;
      return value;
    };
    const auto point = [&] {
      const double x = number();
      const double y = number();
      return Vec2{x, height - y};
    };
    const auto run = [&](Vec2 to) {
      const Vec2 from = out.back().back();
      const int n = std::max(1, static_cast<int>(length(to - from) / step));
      for (int k = 1; k <= n; ++k)
        out.back().push_back(from + (to - from) * (static_cast<double>(k) / n));
    };
    while (svg[i] != '"') {
      const char command = svg[i++];
      if (command == 'M') {
        out.push_back({point()});
      } else if (command == 'L') {
        run(point());
      } else if (command == 'A') {
        const double r = number();
        number();
        number();
        const bool large = number() != 0.0;
        const bool clockwise =
            number() != 0.0;  // sweep 1: y runs down in SVG, so clockwise on paper
        const Vec2 a = out.back().back();
        const Vec2 b = point();
        const Vec2 half = (b - a) * 0.5;
        const double off = std::sqrt(std::max(0.0, r * r - dot(half, half)));
        // The centre lies to the left of a-b when a small arc runs counter-clockwise.
        const Vec2 side = normalized(perpendicular(half)) * off;
        const Vec2 centre = (a + b) * 0.5 + side * (clockwise == large ? 1.0 : -1.0);
        double t0 = std::atan2(a.y - centre.y, a.x - centre.x);
        double t1 = std::atan2(b.y - centre.y, b.x - centre.x);
        const double turn = 2.0 * std::numbers::pi;
        if (!clockwise && t1 < t0) t1 += turn;
        if (clockwise && t1 > t0) t1 -= turn;
        const int n = std::max(1, static_cast<int>(std::abs(t1 - t0) * r / step));
        for (int k = 1; k <= n; ++k) {
          const double t = t0 + (t1 - t0) * k / n;
          out.back().push_back(centre + Vec2{std::cos(t), std::sin(t)} * r);
        }
      } else {
        REQUIRE(command == 'Z');
      }
    }
  }
  return out;
}

/// Column and row of a sheet, from its title: "P1 Board, sheet B3".
Vec2 place_of(const Drawing& page) {
  const std::string name = page.title.substr(page.title.rfind(' ') + 1);
  return {static_cast<double>(name[0] - 'A'), std::stod(name.substr(1)) - 1.0};
}

/// All that the sheets show of the part's edges, put together by hand: sheets lap by 10 mm, half of
/// it beyond each side of what the sheet adds.
std::vector<Vec2> put_together(const Template& made) {
  std::vector<Vec2> points;
  for (std::size_t i = 1; i < made.pages.size(); ++i) {
    const Drawing& page = made.pages[i];
    const Vec2 image{page.width - 16.0, page.height - 16.0 - 17.0};
    const Vec2 net = image - Vec2{10.0, 10.0};
    const Vec2 tile = place_of(page);
    const Vec2 corner{net.x * tile.x - 5.0, net.y * tile.y - 5.0};
    for (const auto& stroke : strokes(svg(page), "0.5", page.height)) {
      if (stroke.front().y < 24.0) continue;  // words below the picture have strokes as wide
      for (const Vec2 p : stroke) points.push_back(p - Vec2{8.0, 25.0} + corner);
    }
  }
  // The part may lie anywhere on the sheets: its own corner counts.
  const double left = std::ranges::min_element(points, {}, &Vec2::x)->x;
  const double foot = std::ranges::min_element(points, {}, &Vec2::y)->y;
  for (Vec2& p : points) p = p - Vec2{left, foot};
  return points;
}

double nearest(const std::vector<Vec2>& points, Vec2 to) {
  double least = 1e9;
  for (const Vec2 p : points) least = std::min(least, length(p - to));
  return least;
}

/// Points along an outline, every mm.
std::vector<Vec2> along(const Loop& loop) {
  std::vector<Vec2> points;
  for (const Side& side : sides(loop)) {
    const double chord = length(side.b - side.a);
    if (!side.arc) {
      for (double t = 0.0; t <= chord; t += 1.0)
        points.push_back(side.a + (side.b - side.a) * (t / chord));
      continue;
    }
    const double t0 = std::atan2(side.a.y - side.centre.y, side.a.x - side.centre.x);
    double t1 = std::atan2(side.b.y - side.centre.y, side.b.x - side.centre.x);
    if (side.counter_clockwise && t1 < t0) t1 += 2.0 * std::numbers::pi;
    if (!side.counter_clockwise && t1 > t0) t1 -= 2.0 * std::numbers::pi;
    for (double t = 0.0; t <= 1.0; t += 0.05) {
      const double at = t0 + (t1 - t0) * t;
      points.push_back(side.centre + Vec2{std::cos(at), std::sin(at)} * side.radius);
    }
  }
  return points;
}

/// A board that follows a wall, with a cut-out of a large radius and one with small ones.
Layout scribed_board() {
  Layout layout = samples::cabinet();
  layout.parts.clear();
  layout.modules = {{"wall", "custom", "Wall", {}, "right", {}}};
  Part board = samples::panel("wall/board", "Board", {0, 0, 0}, {1, 0, 0}, {0, 1, 0}, 900, 640);
  const Loop outline{{{0, 0}}, {{900, 0}}, {{900, 640}}, {{600, 628}}, {{300, 590}}, {{0, 505}}};
  const Loop arch = rectangle({250, 100}, {450, 300}, 80);
  board.shape = std::make_shared<Shape>(
      Shape{{{Prism{{outline, {}}, 11.8, {{arch, -1, 13, CutRole::cut_out}}, {}, {}}, {}}}});
  layout.parts.push_back(board);
  samples::finish(layout);
  return layout;
}

}  // namespace

TEST_CASE("sheets put together show the outline at its true size, all of it and nothing else",
          "[bench][template]") {
  const Layout layout = scribed_board();
  for (const Paper paper : {Paper::a4, Paper::a3, Paper::letter}) {
    CAPTURE(size_of(paper).name);
    const auto all = templates(layout, {.template_paper = paper});
    REQUIRE(all.size() == 1);
    const std::vector<Vec2> shown = put_together(all.front());
    std::vector<Vec2> outline =
        along({{{0, 0}}, {{900, 0}}, {{900, 640}}, {{600, 628}}, {{300, 590}}, {{0, 505}}});
    const std::vector<Vec2> arch = along(rectangle({250, 100}, {450, 300}, 80));
    outline.insert(outline.end(), arch.begin(), arch.end());
    double worst = 0.0;
    for (const Vec2 p : outline) worst = std::max(worst, nearest(shown, p));
    CHECK(worst < 0.3);  // points stand 0.5 mm apart; coordinates are hundredths
    double astray = 0.0;
    for (const Vec2 p : shown) astray = std::max(astray, nearest(outline, p));
    CHECK(astray < 0.75 + 3.2);  // along() has a point every mm, every 6.3 mm on the arcs
    // Corners exactly.
    for (const Vec2 corner :
         {Vec2{0, 0}, Vec2{900, 640}, Vec2{600, 628}, Vec2{300, 590}, Vec2{0, 505}})
      CHECK(nearest(shown, corner) < 0.011);
  }
}

TEST_CASE("the check square measures 100.0 mm on every sheet of the PDF", "[bench][template]") {
  const auto all = templates(scribed_board(), {});
  REQUIRE(all.size() == 1);
  const Template& made = all.front();
  REQUIRE(made.pages.size() > 4);
  std::vector<PdfPage> pages;
  for (const Drawing& d : made.pages) pages.push_back({"sheet", &d});
  const auto pdf = pdf_document(pages, {"Template", ""});
  REQUIRE(pdf);
  const TemporaryFolder folder;
  const std::string file = (folder.path() / "t.pdf").string();
  std::ofstream(file, std::ios::binary) << *pdf;
  for (std::size_t i = 0; i < pages.size(); i += 3) {
    CAPTURE(i);
    const std::string number = std::to_string(i + 1);
    const std::string picture = (folder.path() / "page").string();
    // 254 dots an inch are ten a millimetre.
    REQUIRE(std::system(("pdftoppm -gray -singlefile -r 254 -f " + number + " -l " + number + " " +
                         file + " " + picture)
                            .c_str()) == 0);
    std::ifstream in(picture + ".pgm", std::ios::binary);
    std::string magic;
    int width = 0;
    int height = 0;
    int white = 0;
    in >> magic >> width >> height >> white;
    REQUIRE(magic == "P5");
    in.get();
    std::string grey(static_cast<std::size_t>(width) * static_cast<std::size_t>(height), '\0');
    in.read(grey.data(), static_cast<std::streamsize>(grey.size()));
    const auto dark = [&](int x, int y) {
      return static_cast<unsigned char>(
                 grey[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
                      static_cast<std::size_t>(x)]) < 160;
    };
    // Upright strokes as long as the square's sides, and level ones.
    const auto lines = [&](int across, int along_it, auto&& at) {
      std::vector<double> found;
      for (int a = 0; a < across; ++a) {
        int run = 0;
        for (int b = 0; b <= along_it; ++b) {
          if (b < along_it && at(a, b)) {
            ++run;
            continue;
          }
          if (run >= 995 && run <= 1006) found.push_back(a);
          run = 0;
        }
      }
      return found;
    };
    const auto measured = [](const std::vector<double>& found) {
      return found.empty() ? 0.0 : (found.back() - found.front()) / 10.0;
    };
    CHECK(measured(lines(width, height, [&](int a, int b) { return dark(a, b); })) ==
          Approx(100.0).margin(0.15));
    CHECK(measured(lines(height, width, [&](int a, int b) { return dark(b, a); })) ==
          Approx(100.0).margin(0.15));
  }
}

TEST_CASE("only what a tape cannot mark out gets a template", "[bench][template]") {
  // Rectangles, straight notches, small radii and round holes.
  CHECK(templates(samples::cabinet(), {}).empty());
  CHECK(templates(samples::rack(), {}).empty());
  Layout layout = scribed_board();
  const auto with = [&](const Loop& outline, const std::vector<Cut>& cuts) {
    layout.parts.front().shape =
        std::make_shared<Shape>(Shape{{{Prism{{outline, {}}, 11.8, cuts, {}, {}}, {}}}});
    return templates(layout, {}).size();
  };
  const Loop board = rectangle({0, 0}, {900, 640});
  CHECK(with(board, {}) == 0);
  CHECK(with(board, {{circle({300, 300}, 200), -1, 13, CutRole::cut_out}}) == 0);
  CHECK(with(board, {{rectangle({100, 100}, {400, 300}, 30), -1, 13, CutRole::cut_out}}) == 0);
  CHECK(with(board, {{rectangle({100, 100}, {400, 300}, 31), -1, 13, CutRole::cut_out}}) == 1);
  CHECK(with(board, {{rectangle({100, 100}, {400, 300}, 31), 8, 13, CutRole::dado}}) == 0);
  // One bevelled corner is marked by its two ends.
  CHECK(with({{{0, 0}}, {{900, 0}}, {{900, 600}}, {{860, 640}}, {{0, 640}}}, {}) == 0);
  CHECK(with({{{0, 0}}, {{900, 0}}, {{900, 600}}, {{860, 620}}, {{820, 640}}, {{0, 640}}}, {}) ==
        1);
}

TEST_CASE("ordinates every 100 mm tell where the outline lies", "[bench][template]") {
  const auto all = templates(scribed_board(), {});
  REQUIRE(all.size() == 1);
  // From 0, 505 to 300, 590: at 100 it lies at 505 + 85/3 = 533.3, at 200 at 561.7. Upright, X
  // counts from the other side: 640 - 533.3 = 106.7.
  std::set<std::string> texts;
  for (const InkText& t : all.front().pages.front().texts) texts.insert(t.text);
  CHECK((texts.contains("533.3") || texts.contains("106.7")));
  CHECK((texts.contains("561.7") || texts.contains("78.3")));
  CHECK(texts.contains("800"));
  CHECK_FALSE(texts.contains("900"));
}

TEST_CASE("the check square of a layout in inches tells what a rule in inches shows",
          "[bench][template]") {
  Layout layout = scribed_board();
  const auto told = [&](const std::string& words) {
    std::size_t pages = 0;
    const std::vector<Template> all = templates(layout, {});
    for (const Drawing& page : all.front().pages)
      pages += std::ranges::count(page.texts, words, &InkText::text) > 0 ? 1 : 0;
    return pages;
  };
  CHECK(told("100 mm") > 1);
  CHECK(std::abs((1.0 + 31.0 / 32.0) * 25.4 - 50.0) < 0.02);
  CHECK(std::abs(63.0 / 64.0 * 25.4 - 25.0) < 0.02);
  // 25.4 mm to the inch: 100 mm are 3.937 in, and 3 15/16 are 3.9375.
  CHECK(std::abs((3.0 + 15.0 / 16.0) * 25.4 - 100.0) < 0.02);
  layout.project.show = LengthStyle::inches;
  CHECK(told("100 mm, 3 15/16 in") > 1);
  CHECK(told("100 mm") == 0);
}

TEST_CASE("every hole and every rebate lies on a sheet, and blank sheets are named and not printed",
          "[bench][template]") {
  Layout layout = scribed_board();
  const auto with = [&](const std::vector<Vec2>& holes, bool rebate) {
    Shape shape = *layout.parts.front().shape;
    Prism& prism = shape.prisms.front().prism;
    if (rebate) prism.cuts.push_back({rectangle({-5, -5}, {30, 700}), 6, 13, CutRole::rebate});
    for (const Vec2 at : holes) {
      Bore bore;
      bore.at = {at.x, at.y, 11.8};
      bore.direction = {0, 0, -1};
      bore.diameter = 7;
      bore.depth = 11.8;
      bore.through = true;
      prism.bores.push_back(bore);
    }
    layout.parts.front().shape = std::make_shared<Shape>(shape);
    return templates(layout, {}).front();
  };
  const auto mentions_blank = [](const Template& made) {
    return std::ranges::any_of(made.pages.front().texts, [](const InkText& text) {
      return text.text.starts_with("Not printed, since nothing");
    });
  };
  const Template bare = with({}, false);
  REQUIRE(mentions_blank(bare));  // the middle of the board, right of the arch
  // On the map blank sheets stand in brackets, and none of them is there.
  std::size_t in_brackets = 0;
  for (const InkText& text : bare.pages.front().texts) {
    if (!text.text.starts_with("(")) continue;
    ++in_brackets;
    const std::string name = text.text.substr(1, text.text.size() - 2);
    CHECK(std::ranges::none_of(
        bare.pages, [&](const Drawing& page) { return page.title.ends_with("sheet " + name); }));
  }
  CHECK(in_brackets > 0);
  // Holes every 60 mm over the whole board leave no sheet blank, and each is drawn once or, in
  // laps, several times.
  std::vector<Vec2> holes;
  for (double x = 60.0; x < 880.0; x += 60.0) {
    for (double y = 40.0; y < 480.0; y += 60.0) {
      if (x > 240.0 && x < 460.0 && y > 90.0 && y < 310.0) continue;
      holes.push_back({x, y});
    }
  }
  const Template drilled = with(holes, true);
  CHECK_FALSE(mentions_blank(drilled));
  CHECK(drilled.pages.size() > bare.pages.size());
  std::size_t circles = 0;
  double rebate = 0.0;
  for (std::size_t i = 1; i < drilled.pages.size(); ++i) {
    const Drawing& page = drilled.pages[i];
    circles += std::ranges::count_if(page.arcs, [](const InkArc& arc) {
      return std::abs(length(arc.u) - 3.5) < 1e-6 && arc.to - arc.from > 6.28;
    });
    for (const InkLine& line : page.lines)
      if (line.pen.width == 0.35) rebate += length(line.b - line.a);
  }
  CHECK(circles + 12 >= holes.size());  // some are cut by the rim of a sheet
  // The rebate's inner edge, 505 to 513.5 high at 30 mm, and what the laps show twice.
  CHECK(rebate > 513.0);
  CHECK(rebate < 513.5 + 4 * 10.0);
}

TEST_CASE("a part a little larger than a sheet adds is moved on it, not spread over two",
          "[bench][template]") {
  // A4 shows 194 x 264 mm between margins of 8 mm, with the foot of 17 mm; each sheet adds 184 x
  // 254.
  Layout layout = scribed_board();
  const auto sheets = [&](double across, double up) {
    const Loop outline{
        {{0, 0}}, {{across, 0}}, {{across, up}}, {{across / 2, up - 3}}, {{0, up - 20}}};
    layout.parts.front().shape =
        std::make_shared<Shape>(Shape{{{Prism{{outline, {}}, 11.8, {}, {}, {}}, {}}}});
    return templates(layout, {}).front().pages.size() - 1;
  };
  CHECK(sheets(188, 258) == 1);
  CHECK(sheets(188, 270) == 2);
  CHECK(sheets(258, 188) == 2);  // it is shown as it lies in its module, as on all other papers
}

TEST_CASE("the templates of every project are clean, and all of their sheets hang together",
          "[bench][template][projects]") {
  std::size_t made = 0;
  for (const std::string& file : project_files()) {
    CAPTURE(file);
    Layout layout = laid_out_file(file);
    layout.project.show = LengthStyle::inches;  // the longer texts
    for (const Template& t : templates(layout, {.template_paper = Paper::letter})) {
      for (const Drawing& page : t.pages) CHECK(audit(page).empty());
    }
    layout.project.show = LengthStyle::millimetres;
    for (const Template& t : templates(layout, {})) {
      CAPTURE(t.name);
      ++made;
      std::vector<Drawing> pages = t.pages;
      pages.push_back(t.whole);
      for (const Drawing& page : pages) {
        CAPTURE(page.title);
        for (const Fault& f : audit(page))
          FAIL_CHECK(f.what << " kind " << static_cast<int>(f.kind) << " at " << f.at.x << ", "
                            << f.at.y);
      }
      // From the first sheet over neighbours to all others.
      std::set<std::pair<int, int>> left;
      for (std::size_t i = 1; i < t.pages.size(); ++i) {
        const Vec2 place = place_of(t.pages[i]);
        left.emplace(static_cast<int>(place.x), static_cast<int>(place.y));
      }
      REQUIRE_FALSE(left.empty());
      std::vector<std::pair<int, int>> open{*left.begin()};
      left.erase(left.begin());
      while (!open.empty()) {
        const auto [x, y] = open.back();
        open.pop_back();
        for (const auto& next : {std::pair{x + 1, y}, {x - 1, y}, {x, y + 1}, {x, y - 1}}) {
          if (left.erase(next) > 0) open.push_back(next);
        }
      }
      CHECK(left.empty());
    }
  }
  CHECK(made >= 20);  // partitions, floors, lockers, rings of hatches, the bench's arch
}
