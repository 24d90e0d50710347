#include "base/messages.hpp"
#include "judgement/judgement.hpp"
#include "projects.hpp"
#include "small_project.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

/// A board of the module before the stroke; its thickness lies along z.
Part board(std::string id, Vec3 lo, Vec3 hi, PartKind kind = PartKind::panel) {
  Part part;
  part.module = id.substr(0, id.find('/'));
  part.title = id.substr(id.find('/') + 1);
  part.id = std::move(id);
  part.kind = kind;
  part.stock.key = "ply";
  part.shape = std::make_shared<const Shape>(box_shape(lo, hi));
  return part;
}

Layout layout_of(std::vector<Part> parts) {
  Layout layout;
  layout.parts = std::move(parts);
  std::ranges::sort(layout.parts, {}, &Part::id);
  layout.tolerances = {.saw = 0.5,
                       .sheet = 0.3,
                       .profile = 0.2,
                       .folding = 0.5,
                       .bought = 0.5,
                       .assembly = 0.4,
                       .fitting = 1.0,
                       .play = 0.6};
  return layout;
}

/// Comes out 200 to the right.
Motion drawer_of(const std::string& part) {
  Motion motion;
  motion.id = "box/drawer";
  motion.parts = {part};
  motion.axis = {0, -1, 0};
  motion.travel = motion.required = 200.0;
  return motion;
}

/// A base of 400 with ends set against it, and a block of 100 against the left end: 300 are left.
Layout block_between_ends(double required) {
  Layout layout = layout_of({board("box/base", {0, 0, -18}, {400, 300, 0}),
                             board("box/left", {-18, 0, -18}, {0, 300, 200}),
                             board("box/right", {400, 0, -18}, {418, 300, 200}),
                             board("box/block", {0, 0, 50}, {100, 300, 68})});
  for (const auto& [a, b] : {std::pair("base", "left"), {"base", "right"}, {"block", "left"}}) {
    layout.joints.emplace_back();
    layout.joints.back().parts = {std::string("box/") + a, std::string("box/") + b};
  }
  layout.gaps = {{"box/gap.fridge", "box/block", "box/right", required, {}}};
  return layout;
}

std::vector<std::string> codes(const Judgement& judgement) {
  std::vector<std::string> all;
  for (const Finding& finding : judgement.findings) all.push_back(finding.code);
  return all;
}

double number(const Finding& finding, std::string_view name) {
  const Argument* argument = finding.argument(name);
  REQUIRE(argument != nullptr);
  return std::get<double>(argument->value);
}

const JudgedGap& only_gap(const Judgement& judgement) {
  REQUIRE(judgement.gaps.size() == 1);
  return judgement.gaps.front();
}

/// The worst fit of a module at a place of the van.
const VanFit& fit_at(const Judgement& judgement, const std::string& place) {
  const auto fit = std::ranges::find(judgement.van, place, &VanFit::place);
  REQUIRE(fit != judgement.van.end());
  return *fit;
}

Layout laid_out(const std::string& modules) {
  auto layout = lay_out_text(modules);
  INFO(words(layout.findings));
  REQUIRE(layout.value);
  REQUIRE_FALSE(has_errors(layout.findings));
  return std::move(*layout.value);
}

}  // namespace

TEST_CASE("a stack counts each size between the two faces once", "[judgement]") {
  const Judgement judgement = judge(block_between_ends(295.0));

  // From the block's free end: its size, and that of the base; the ends only pass the face on.
  const JudgedGap& gap = only_gap(judgement);
  CHECK(gap.kind == GapKind::asked);
  CHECK(gap.nominal == Approx(300.0));
  CHECK(gap.stack.worst == Approx(0.5 + 0.5));
  CHECK(gap.stack.rss == Approx(std::sqrt(0.5)));
  CHECK(gap.fits());
  CHECK(judgement.findings.empty());
}

TEST_CASE("a gap that is wide enough as drawn and not in the worst case may not fit",
          "[judgement]") {
  const Judgement judgement = judge(block_between_ends(299.5));

  CHECK(only_gap(judgement).likely_fits() == false);
  REQUIRE(codes(judgement) == std::vector<std::string>{"judgement.stack"});
  const Finding& finding = judgement.findings.front();
  CHECK(finding.severity == Severity::warning);
  CHECK(number(finding, "measured") == Approx(300.0));
  CHECK(number(finding, "required") == Approx(299.5));
  CHECK(number(finding, "worst") == Approx(1.0));
  CHECK(number(finding, "share") == Approx(50.0));
  CHECK(message_text(finding, LengthStyle::millimetres).find("saw of box/b") != std::string::npos);
}

TEST_CASE("a gap that is too narrow as drawn is left to the check of clearance", "[judgement]") {
  const Judgement judgement = judge(block_between_ends(300.5));
  CHECK_FALSE(only_gap(judgement).fits());
  CHECK(judgement.findings.empty());
}

TEST_CASE("pieces of one sheet are off together", "[judgement]") {
  Part post = board("box/post", {200, 0, 0}, {240, 40, 50}, PartKind::member);
  Layout layout = layout_of({board("box/base", {0, 0, -18}, {400, 300, 0}), post,
                             board("box/low", {0, 0, 0}, {190, 300, 18}),
                             board("box/high", {0, 0, 18}, {190, 300, 36}),
                             board("box/lid", {0, 0, 50}, {400, 300, 68})});
  layout.gaps = {{"box/gap", "box/high", "box/lid", 13.0, {}}};

  const Judgement judgement = judge(layout);

  const JudgedGap& gap = only_gap(judgement);
  REQUIRE(gap.stack.contributors.size() == 2);
  CHECK(gap.stack.contributors[0].what == "sheet ply");
  CHECK(gap.stack.contributors[0].tolerance == Approx(2 * 0.3));
  CHECK(gap.stack.contributors[1].what == "saw");
  CHECK(gap.stack.worst == Approx(1.1));
  CHECK(std::ranges::count(codes(judgement), "judgement.stack") == 1);
}

TEST_CASE("two modules are set side by side by their fitting", "[judgement]") {
  const Layout layout = layout_of({board("left/end", {0, 0, 0}, {100, 300, 18}),
                                   board("right/end", {104, 0, 0}, {200, 300, 18})});
  const Judgement judgement = judge(layout);
  const JudgedGap& gap = only_gap(judgement);
  CHECK(gap.kind == GapKind::modules);
  CHECK(gap.nominal == Approx(4.0));
  CHECK(gap.stack.worst == Approx(1.0));
  CHECK(gap.stack.contributors.front().what == "fitting");
}

TEST_CASE("what moves has the play of its slides", "[judgement]") {
  const double space = GENERATE(0.8, 3.0);
  Layout layout = layout_of({board("box/base", {0, 0, -18}, {400, 300, 0}),
                             board("box/right", {400, 0, -18}, {418, 300, 200}),
                             board("box/drawer", {100, 0, 0}, {400 - space, 300, 100})});
  layout.motions = {drawer_of("box/drawer")};
  const Judgement judgement = judge(layout);
  const JudgedGap& gap = only_gap(judgement);
  CHECK(gap.kind == GapKind::motion);
  CHECK(gap.nominal == Approx(space));
  CHECK(gap.stack.worst == Approx(0.4 + 0.6));  // set by hand on the base, and its play
  CHECK(std::ranges::count(codes(judgement), "judgement.stack") == (space < 1.0 ? 1 : 0));
}

TEST_CASE("what a drawer stops short of when it is shut is no gap on its way", "[judgement]") {
  Layout layout = layout_of({board("box/front", {0, -20, 0}, {400, -2, 100}),
                             board("box/bottom", {0, 0, 0}, {400, 300, 18})});
  layout.motions = {drawer_of("box/front")};
  CHECK(judge(layout).gaps.empty());
}

TEST_CASE("felt goes between hard parts that nothing holds together", "[judgement]") {
  const auto rattles = [](double apart, auto change) {
    Layout layout = layout_of({board("left/end", {0, 0, 0}, {100, 300, 18}),
                               board("right/end", {100 + apart, 0, 0}, {200, 250, 18})});
    change(layout);
    return judge(layout);
  };
  const auto nothing = [](Layout&) {};

  const Judgement judgement = rattles(1.5, nothing);
  REQUIRE(judgement.rattles.size() == 1);
  const Rattle& rattle = judgement.rattles.front();
  CHECK(rattle.places == 1);
  CHECK(rattle.gap == Approx(1.5));
  CHECK(rattle.length == Approx(250.0));
  CHECK(rattle.width == Approx(18.0));
  CHECK(rattle.area == Approx(250.0 * 18.0));
  CHECK(rattle.ids == std::vector<std::string>{"left/end + right/end"});
  CHECK(std::ranges::count(codes(judgement), "judgement.rattle") == 1);

  CHECK(rattles(2.0 + 1e-9, nothing).rattles.size() == 1);  // 2 mm, told in inches
  CHECK(rattles(0.0, nothing).rattles.size() == 1);  // touching, and each can move by itself
  CHECK(rattles(2.5, nothing).rattles.empty());
  CHECK(rattles(1.5, [](Layout& l) {
          l.joints.emplace_back();
          l.joints.back().parts = {"left/end", "right/end"};
        }).rattles.empty());
  CHECK(rattles(1.5, [](Layout& l) {
          Covering film;
          film.turn_over = 20.0;
          l.parts[0].coverings = {film};
        }).rattles.empty());
}

TEST_CASE("what rests by its weight does not rattle", "[judgement]") {
  const Layout layout = layout_of({board("low/top", {0, 0, 0}, {400, 300, 18}),
                                   board("high/bottom", {0, 0, 18}, {400, 300, 36})});
  CHECK(judge(layout).rattles.empty());
}

TEST_CASE("the survey decides whether a rack of metal goes between the walls", "[judgement]") {
  const auto rack = [](const std::string& gap) {
    std::string text = kPlainRack;
    const std::string place = "between = \"walls\",";
    text.replace(text.find(place), place.size(), place + " gap = \"" + gap + "\",");
    const std::string width = "width = \"1000 mm\"\n";
    text.erase(text.find(width), width.size());
    return laid_out(text);
  };
  SECTION("wide enough: it fits") {  // the survey may be wrong by 2 mm
    const Judgement judgement = judge(rack("4 mm"));
    CHECK(fit_at(judgement, "vehicle/ribs.left").verdict == FitVerdict::fits);
    CHECK(fit_at(judgement, "vehicle/ribs.left").gap == Approx(4.0));
    CHECK(fit_at(judgement, "vehicle/ribs.left").uncertainty == Approx(2.0));
  }
  SECTION("not wide enough: measure again, and what") {
    const Judgement judgement = judge(rack("1 mm"));
    const VanFit& fit = fit_at(judgement, "vehicle/ribs.left");
    CHECK(fit.verdict == FitVerdict::measure);
    CHECK(fit.measure.find("half width to the left up to vehicle/rib.") != std::string::npos);
    CHECK(has_code(judgement.findings, "judgement.measure"));
    for (const Finding& finding : judgement.findings)
      CHECK(message_text(finding, LengthStyle::millimetres).find("judgement.") == std::string::npos);
  }
}

TEST_CASE("Marsh has lists that a builder reads, and nothing that may not fit", "[judgement]") {
  const Layout layout = demo();
  const Judgement judgement = judge(layout);

  INFO(words(judgement.findings));
  CHECK(codes(judgement) == std::vector<std::string>{"judgement.rattle"});
  CHECK(judgement.gaps.size() > 10);
  CHECK(judgement.gaps.size() < 60);
  CHECK(judgement.rattles.size() < 40);
  // Its partition is planed to the walls: 3 mm as drawn, and the survey may be wrong by 3 mm.
  CHECK(fit_at(judgement, "vehicle/wall.left").verdict == FitVerdict::scribe);
  CHECK(fit_at(judgement, "vehicle/wall.left").allowance == Approx(6.0).margin(0.05));
}

TEST_CASE("a judgement is the same for any number of threads", "[judgement]") {
  const Layout layout = demo();
  const Judgement one = judge(layout, 1);
  const Judgement two = judge(layout, 2);
  REQUIRE(one.gaps.size() == two.gaps.size());
  for (std::size_t i = 0; i < one.gaps.size(); ++i) {
    CHECK(one.gaps[i].a == two.gaps[i].a);
    CHECK(one.gaps[i].nominal == two.gaps[i].nominal);
    CHECK(one.gaps[i].stack.contributors == two.gaps[i].stack.contributors);
  }
  CHECK(one.findings == two.findings);
}

TEST_CASE("a lining that may be bowed by hand fits where the survey may be wrong", "[judgement]") {
  const auto lining = [](const std::string& flexible) {
    return judge(laid_out(R"(
[module.left_lining]
kind = "lining"
faces = "right"
sheet = "poplar_5"
mount = "resting"
height = "1100 mm"
place = { rear = "300 mm", front = "1300 mm", against = "left wall", gap = "1 mm", bottom = "0 mm" }
)" + flexible));
  };
  CHECK(fit_at(lining(""), "vehicle/ribs.left").verdict == FitVerdict::measure);
  CHECK(fit_at(lining("flexible = \"3 mm\"\n"), "vehicle/ribs.left").verdict == FitVerdict::fits);
}

namespace {

/// A board beside the left wall of the straight van, whose survey may be wrong by 2 mm, between two of
/// its ribs; something of `stock` holds it there, or nothing when that is empty.
Judgement board_at_wall(double gap, const std::string& stock, double spring_in = 0.0) {
  Layout layout = laid_out("");
  Part panel = board("box/board", {350, 782 - gap, 200}, {650, 800 - gap, 600});
  panel.spring_in = spring_in;
  layout.parts = {panel};
  if (!stock.empty()) {
    Part holder = board("box/holder", {500, 782 - gap, 400}, {510, 800, 410}, PartKind::hardware);
    holder.stock.key = stock;
    holder.hosts = {"box/board", "vehicle/wall.left"};
    layout.parts.push_back(holder);
  }
  return judge(layout);
}

}  // namespace

TEST_CASE("what is fastened to the van is packed by what the survey may leave", "[judgement]") {
  struct Row {
    double gap;
    const char* stock;
    double spring_in;
    FitVerdict verdict;
    double allowance;
  };
  const auto row = GENERATE(values<Row>({
      {3.0, "wood_4x40", 0, FitVerdict::shim, 5.0},  // as drawn, and 2 more
      {0.0, "wood_4x40", 0, FitVerdict::shim, 2.0},
      {-1.4, "wood_4x40", 0, FitVerdict::shim, 0.6},
      {-1.6, "wood_4x40", 0, FitVerdict::fits, 0.0},  // 0.4 are pulled close
      // A magnet or clip fills what is drawn: what the survey may leave remains.
      {3.0, "magnet_20", 0, FitVerdict::shim, 2.0},
      {3.0, "magnet_20", 1.0, FitVerdict::shim, 1.0},
      {3.0, "magnet_20", 1.6, FitVerdict::fits, 0.0},
      // Held by nothing there, a board is planed where it may be too long: 2 of the survey, 1 of fitting.
      {2.9, "", 0, FitVerdict::scribe, 4.9},
      {3.1, "", 0, FitVerdict::fits, 0.0},
  }));
  CAPTURE(row.gap, row.stock, row.spring_in);
  const Judgement judgement = board_at_wall(row.gap, row.stock, row.spring_in);
  const VanFit& fit = fit_at(judgement, "vehicle/wall.left");
  CHECK(name(fit.verdict) == name(row.verdict));
  CHECK(fit.gap == Approx(row.gap));
  CHECK(fit.uncertainty == Approx(2.0));
  CHECK(fit.allowance == Approx(row.allowance));
  CHECK(fit.measure.empty());
}

TEST_CASE("Marsh's ceiling and lining are packed where they are held", "[judgement]") {
  const Judgement judgement = judge(demo());
  const auto fit = [&](const char* module, const char* place) {
    const auto found = std::ranges::find_if(judgement.van, [&](const VanFit& each) {
      return each.module == module && each.place == place;
    });
    REQUIRE(found != judgement.van.end());
    CHECK(name(found->verdict) == name(FitVerdict::shim));
    return *found;
  };
  // Screwed to the bows: what is drawn, and what the survey may leave. On clips: the latter alone.
  const VanFit ceiling = fit("ceiling", "vehicle/bows");
  CHECK(ceiling.allowance == Approx(ceiling.gap + ceiling.uncertainty));
  const VanFit lining = fit("left_lining", "vehicle/ribs.left");
  CHECK(lining.allowance == Approx(lining.uncertainty));
}
