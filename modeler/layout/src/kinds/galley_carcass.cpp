#include "base/tolerance.hpp"
#include "galley.hpp"

namespace ribbay::detail {

namespace {

/// How far a cleat reaches back from the filler that is screwed to its edge (common practice, no
/// source).
constexpr double kCleat = 60.0;
/// Backs of columns narrower than this get one screw where wider ones get two (common practice, no
/// source).
constexpr double kNarrow = 200.0;

/// Toe boards lower than this get one row of screws (common practice, no source).
constexpr double kLowToe = 40.0;

/// Columns whose boards are shared, from one spacer to the next; the stretchers run through all of
/// them.
struct Run {
  std::size_t first = 0;
  std::size_t last = 0;
};

std::vector<Run> runs(const GalleyPlan& plan) {
  std::vector<Run> result;
  for (std::size_t i = 0; i < plan.columns.size(); ++i) {
    if (plan.columns[i].left_free) result.push_back({i, i});
    result.back().last = i;
  }
  return result;
}

double front_stretcher(const GalleyPlan& plan) {
  return plan.carcass_front + kFingerRoom;
}
double rear_stretcher(const GalleyPlan& plan) {
  return plan.back_face - plan.stretcher;
}

/// A side or divider whose left face is at `x`, with the toe space cut out of its lower front.
Board upright(const GalleyWork& work, const std::string& name, const std::string& title, double x) {
  const GalleyPlan& plan = work.plan;
  const double t = plan.carcass->thickness;
  Board board{.name = name,
              .title = title,
              .sheet = plan.carcass,
              .box = {{x, plan.carcass_front, 0}, {x + t, work.request.size.y, plan.carcass_top}},
              .normal = {1, 0, 0},
              .along = {0, 0, 1},
              .cuts = {},
              .holes = {}};
  work.band_front_edge(board);
  if (plan.toe_height > 0.0) {
    const double behind_toe = plan.carcass_front + work.request.fields.number("toe_depth") + t;
    board.cuts.push_back({{{x - kPast, plan.carcass_front - kPast, -kPast},
                           {x + t + kPast, behind_toe, plan.toe_height}},
                          CutRole::toe_space});
  }
  return board;
}

/// Cuts the dado for a bottom and the rebate for a back into the face of an upright that looks at a
/// column; `lo` and `hi` say how deep, in x.
void house_column(const GalleyWork& work, Board& board, double lo, double hi) {
  const GalleyPlan& plan = work.plan;
  const double rear = work.request.size.y + kPast;
  const double under = plan.toe_height > 0.0 ? plan.toe_height : -kPast;
  board.cuts.push_back(
      {{{lo, plan.carcass_front - kPast, under}, {hi, rear, plan.floor}}, CutRole::dado});
  board.cuts.push_back(
      {{{lo, plan.back_face, -kPast}, {hi, rear, plan.carcass_top + kPast}}, CutRole::rebate});
}

void add_uprights(const GalleyWork& work) {
  const double t = work.plan.carcass->thickness;
  const std::string left = work.request.left();
  const std::string right = work.request.right();
  for (const GalleyColumn& column : work.plan.columns) {
    if (column.left_free) {
      const bool ends = column.left_board == "side." + left;
      const std::string title = "Side " + left + (ends ? "" : " of " + column.key);
      work.joinery.add(upright(work, column.left_board, title, column.left - t));
    }
    const std::string title = column.right_board == "side." + right
                                  ? "Side " + right
                                  : "Divider " + right + " of " + column.key;
    work.joinery.add(upright(work, column.right_board, title, column.right));
  }
  for (const GalleyColumn& column : work.plan.columns) {
    house_column(work, work.joinery.board(column.left_board), column.left - work.plan.dado,
                 column.left + kPast);
    house_column(work, work.joinery.board(column.right_board), column.right - kPast,
                 column.right + work.plan.dado);
  }
}

/// The bottom of a column sits in dados; where the other side can be reached, it is screwed as
/// well.
void add_bottom(const GalleyWork& work, const GalleyColumn& column) {
  const GalleyPlan& plan = work.plan;
  const std::string name = "bottom." + column.key;
  work.band_front_edge(
      work.joinery.add({.name = name,
                        .title = "Bottom of " + column.key,
                        .sheet = plan.carcass,
                        .box = {{column.left - plan.dado, plan.carcass_front, plan.toe_height},
                                {column.right + plan.dado, plan.back_face, plan.floor}},
                        .normal = {0, 0, 1},
                        .along = {1, 0, 0},
                        .cuts = {},
                        .holes = {}}));
  const double z = plan.toe_height + plan.carcass->thickness / 2;
  for (const bool at_left : {true, false}) {
    const std::string& board = at_left ? column.left_board : column.right_board;
    std::vector<std::string> screws;
    if (at_left ? column.left_free : column.right_free) {
      screws = screw_end(work, board, at_left, name,
                         {{"front", plan.carcass_front + 40, z}, {"rear", plan.back_face - 90, z}});
    }
    work.joinery.join("dado", name, board, std::move(screws));
  }
}

void add_stretchers(const GalleyWork& work, const Run& run) {
  const GalleyPlan& plan = work.plan;
  const GalleyColumn& first = plan.columns[run.first];
  const GalleyColumn& last = plan.columns[run.last];
  const double t = plan.carcass->thickness;
  struct Position {
    const char* name;
    double y;
    double screws[2];  // y of the screws into dividers, clear of those of slides and pins
  };
  const double w = plan.stretcher;
  const double f = front_stretcher(plan);
  const double r = rear_stretcher(plan);
  for (const Position& at : {Position{"front", f, {f + 10, f + w - 10}},
                             Position{"rear", r, {r + w - 28, r + w - 12}}}) {
    const std::string name = "stretcher." + first.key + "." + at.name;
    work.joinery.add(
        {.name = name,
         .title = "Stretcher " + std::string(at.name),
         .sheet = plan.carcass,
         .box = {{first.left, at.y, plan.ceiling}, {last.right, at.y + w, plan.carcass_top}},
         .normal = {0, 0, 1},
         .along = {1, 0, 0},
         .cuts = {},
         .holes = {}});
    const double middle = at.y + w / 2;
    const double end = std::min(25.0, w / 2 - 10);
    for (const bool at_left : {true, false}) {
      const std::string& board = at_left ? first.left_board : last.right_board;
      const double z = plan.ceiling + t / 2;
      work.joinery.join("screwed", name, board,
                        screw_end(work, board, at_left, name,
                                  {{"front", middle - end, z}, {"rear", middle + end, z}}));
    }
    for (std::size_t i = run.first; i < run.last; ++i) {
      const std::string& divider = plan.columns[i].right_board;
      Board& board = work.joinery.board(divider);
      // What would be left beside the notch, thinner than the board, snaps off: the notch runs out.
      const bool horn_before = at.y - board.box.lo.y < t;
      const bool horn_behind = board.box.hi.y - (at.y + w) < t;
      board.cuts.push_back(
          {{{board.box.lo.x - kPast, horn_before ? board.box.lo.y - kPast : at.y, plan.ceiling},
            {board.box.hi.x + kPast, horn_behind ? board.box.hi.y + kPast : at.y + w,
             plan.carcass_top + kPast}},
           CutRole::notch});
      std::vector<std::string> screws;
      for (int k = 0; k < 2; ++k) {
        screws.push_back(work.joinery.screw(
            {.name = name + ".screw." + plan.columns[i].key + (k == 0 ? "_1" : "_2"),
             .field = "screw",
             .at = {board.box.centre().x, at.screws[k], plan.carcass_top},
             .direction = {0, 0, -1},
             .from = name,
             .into = divider}));
      }
      work.joinery.join("screwed", name, divider, std::move(screws));
    }
  }
}

/// Where screws along a column's width go, at `part` of it from either side.
std::vector<double> along_opening(const GalleyColumn& column, double part) {
  return {column.left + part * column.opening(), column.right - part * column.opening()};
}

void add_back(const GalleyWork& work, const GalleyColumn& column, const Run& run) {
  const GalleyPlan& plan = work.plan;
  const double rear = work.request.size.y;
  const std::string name = "back." + column.key;
  work.joinery.add({.name = name,
                    .title = "Back of " + column.key,
                    .sheet = plan.back,
                    .box = {{column.left - plan.dado, plan.back_face, plan.toe_height},
                            {column.right + plan.dado, rear, plan.carcass_top}},
                    .normal = {0, -1, 0},
                    .along = {0, 0, 1},
                    .cuts = {},
                    .holes = {}});
  work.joinery.join("rebate", name, column.left_board);
  work.joinery.join("rebate", name, column.right_board);
  const double half = plan.carcass->thickness / 2;
  const std::string stretcher = "stretcher." + plan.columns[run.first].key + ".rear";
  for (const auto& [place, into, z] :
       {std::tuple{".screw.bottom_", "bottom." + column.key, plan.toe_height + half},
        std::tuple{".screw.top_", stretcher, plan.ceiling + half}}) {
    std::vector<std::string> screws;
    const std::vector<double> at = column.opening() < kNarrow
                                       ? std::vector{(column.left + column.right) / 2}
                                       : along_opening(column, 1.0 / 3);
    for (const double x : at) {
      screws.push_back(work.joinery.screw({.name = name + place + std::to_string(screws.size() + 1),
                                           .field = "screw",
                                           .at = {x, rear, z},
                                           .direction = {0, -1, 0},
                                           .from = name,
                                           .into = into}));
    }
    work.joinery.join("screwed", name, into, std::move(screws));
  }
}

void add_toe_board(const GalleyWork& work) {
  const GalleyPlan& plan = work.plan;
  if (plan.toe_height <= 0.0) return;
  const double y = plan.carcass_front + work.request.fields.number("toe_depth");
  work.joinery.add(
      {.name = "toe",
       .title = "Toe board",
       .sheet = plan.carcass,
       .box = {{0, y, 0}, {work.request.size.x, y + plan.carcass->thickness, plan.toe_height}},
       .normal = {0, -1, 0},
       .along = {1, 0, 0},
       .cuts = {},
       .holes = {}});
  const std::vector<double> heights =
      plan.toe_height < kLowToe ? std::vector{0.5} : std::vector{0.25, 0.75};
  const auto fix_to = [&](const std::string& board) {
    std::vector<std::string> screws;
    for (const double part : heights) {
      screws.push_back(work.joinery.screw(
          {.name = "toe.screw." + board + "_" + std::to_string(screws.size() + 1),
           .field = "screw",
           .at = {work.joinery.board(board).box.centre().x, y, part * plan.toe_height},
           .direction = {0, 1, 0},
           .from = "toe",
           .into = board}));
    }
    work.joinery.join("screwed", "toe", board, std::move(screws));
  };
  for (const GalleyColumn& column : plan.columns) {
    if (column.left_free) fix_to(column.left_board);
    fix_to(column.right_board);
  }
}

/// The counter is screwed from below through the stretchers.
void add_counter(const GalleyWork& work, const std::vector<Run>& all_runs) {
  const GalleyPlan& plan = work.plan;
  const Vec3 size = work.request.size;
  work.band_front_edge(work.joinery.add({.name = "counter",
                                         .title = "Counter",
                                         .sheet = plan.counter,
                                         .box = {{0, 0, plan.carcass_top}, size},
                                         .normal = {0, 0, 1},
                                         .along = {1, 0, 0},
                                         .cuts = {},
                                         .holes = {}}));
  for (const Run& run : all_runs) {
    for (const auto& [place, y] :
         {std::pair{"front", front_stretcher(plan)}, std::pair{"rear", rear_stretcher(plan)}}) {
      const std::string stretcher = "stretcher." + plan.columns[run.first].key + "." + place;
      std::vector<std::string> screws;
      for (std::size_t i = run.first; i <= run.last; ++i) {
        const GalleyColumn& column = plan.columns[i];
        int count = 0;
        for (const double x : along_opening(column, 0.25)) {
          screws.push_back(work.joinery.screw(
              {.name = "counter.screw." + column.key + "." + place + "_" + std::to_string(++count),
               .field = "panel_screw",
               .at = {x, y + plan.stretcher / 2, plan.ceiling},
               .direction = {0, 0, 1},
               .from = stretcher,
               .into = "counter"}));
        }
      }
      work.joinery.join("screwed", stretcher, "counter", std::move(screws));
    }
  }
}

/// A spacer is closed by a filler in the plane of the fronts. It is screwed to the edge of a cleat
/// that stands against the side of a column.
void add_spacer(const GalleyWork& work, const GalleySpacer& spacer) {
  const GalleyPlan& plan = work.plan;
  const double t = plan.carcass->thickness;
  const double overlap = (t - plan.gap) / 2;  // on a side, as a front
  const std::string filler = "filler." + spacer.name;
  const std::string cleat = "cleat." + spacer.name;
  work.band_front(
      work.joinery.add({.name = filler,
                        .title = "Filler",
                        .sheet = plan.front,
                        .box = {{spacer.left - (spacer.left_board.empty() ? 0.0 : overlap),
                                 plan.front_face, plan.toe_height},
                                {spacer.right + (spacer.right_board.empty() ? 0.0 : overlap),
                                 plan.front_back, plan.fronts_top}},
                        .normal = {0, -1, 0},
                        .along = {0, 0, 1},
                        .cuts = {},
                        .holes = {}}));
  const bool at_left = spacer.right_board.empty();
  const std::string& side = at_left ? spacer.left_board : spacer.right_board;
  const double x = at_left ? spacer.left : spacer.right - t;
  const Box post{{x, plan.front_back, plan.floor}, {x + t, plan.front_back + kCleat, plan.ceiling}};
  work.joinery.add({.name = cleat,
                    .title = "Cleat behind filler",
                    .sheet = plan.carcass,
                    .box = post,
                    .normal = {1, 0, 0},
                    .along = {0, 0, 1},
                    .cuts = {},
                    .holes = {}});
  std::vector<std::string> through_filler;
  std::vector<std::string> through_cleat;
  for (const double part : {0.1, 0.5, 0.9}) {
    const std::string number = "_" + std::to_string(through_filler.size() + 1);
    const double z = post.lo.z + part * post.size().z;
    const double beside = z + (part < 0.7 ? 0.1 : -0.1) * post.size().z;
    through_filler.push_back(work.joinery.screw({.name = filler + ".screw" + number,
                                                 .field = "screw",
                                                 .at = {x + t / 2, plan.front_face, z},
                                                 .direction = {0, 1, 0},
                                                 .from = filler,
                                                 .into = cleat}));
    through_cleat.push_back(
        work.joinery.screw({.name = cleat + ".screw" + number,
                            .field = "panel_screw",
                            .at = {at_left ? x + t : x, plan.carcass_front + 20, beside},
                            .direction = {at_left ? -1.0 : 1.0, 0, 0},
                            .from = cleat,
                            .into = side}));
  }
  work.joinery.join("screwed", filler, cleat, std::move(through_filler));
  work.joinery.join("screwed", cleat, side, std::move(through_cleat));
}

Box opening_of(const GalleyWork& work, const GalleyColumn& column) {
  return {{column.left, work.plan.carcass_front, work.plan.floor},
          {column.right, work.plan.back_face, work.plan.ceiling}};
}

}  // namespace

void make_carcass(const GalleyWork& work) {
  add_uprights(work);
  const std::vector<Run> all_runs = runs(work.plan);
  for (const Run& run : all_runs) {
    add_stretchers(work, run);
    for (std::size_t i = run.first; i <= run.last; ++i) {
      const GalleyColumn& column = work.plan.columns[i];
      add_bottom(work, column);
      add_back(work, column, run);
      work.shop.made().ports[column.key] = work.shop.to_van(opening_of(work, column));
    }
  }
  for (const GalleySpacer& spacer : work.plan.spacers) add_spacer(work, spacer);
  add_toe_board(work);
  add_counter(work, all_runs);
}

}  // namespace ribbay::detail
