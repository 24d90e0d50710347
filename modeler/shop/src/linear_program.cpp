#include "linear_program.hpp"

#include "glpk_wall.hpp"

#include <glpk.h>

#include <cmath>

namespace ribbay::detail {

namespace {

constexpr int kMostIterations = 200'000;

/// The solver counts from 1.
int index_of(std::size_t zero_based) {
  return static_cast<int>(zero_based) + 1;
}

struct Watch {
  LinearProgram::IntegerLimits limits;
  int nodes = 0;
};

extern "C" void watch_integer_search(glp_tree* tree, void* data) {
  auto& watch = *static_cast<Watch*>(data);
  glp_prob* problem = glp_ios_get_prob(tree);
  const int reason = glp_ios_reason(tree);
  if (reason == GLP_ISELECT && ++watch.nodes > watch.limits.nodes) glp_ios_terminate(tree);
  if ((reason == GLP_ISELECT || reason == GLP_IROWGEN) &&
      glp_get_it_cnt(problem) > watch.limits.iterations) {
    glp_ios_terminate(tree);
  }
  if (reason == GLP_IBINGO && glp_mip_obj_val(problem) <= watch.limits.good_enough + 1e-6) {
    glp_ios_terminate(tree);
  }
}

}  // namespace

LinearProgram::LinearProgram(std::size_t rows) : rows_(rows) {
  const int count = static_cast<int>(rows);
  behind_wall([&] {
    problem_ = glp_create_prob();
    glp_set_obj_dir(problem_, GLP_MIN);
    glp_add_rows(problem_, count);
  });
  failures_ = solver_failures();
}

LinearProgram::~LinearProgram() {
  if (alive()) behind_wall([&] { glp_delete_prob(problem_); });
}

bool LinearProgram::alive() const {
  return problem_ != nullptr && failures_ == solver_failures();
}

void LinearProgram::at_least(std::size_t row, double limit) {
  const int i = index_of(row);
  if (alive()) behind_wall([&] { glp_set_row_bnds(problem_, i, GLP_LO, limit, 0.0); });
}

void LinearProgram::at_most(std::size_t row, double limit) {
  const int i = index_of(row);
  if (alive()) behind_wall([&] { glp_set_row_bnds(problem_, i, GLP_UP, 0.0, limit); });
}

void LinearProgram::add_column(double cost, const std::vector<Entry>& entries, bool start) {
  if (!alive()) return;
  std::vector<int> rows(1, 0);
  std::vector<double> values(1, 0.0);
  for (const Entry& entry : entries) {
    rows.push_back(index_of(entry.row));
    values.push_back(entry.value);
  }
  const int count = static_cast<int>(entries.size());
  const int* row = rows.data();
  const double* value = values.data();
  starting_.push_back(start);
  behind_wall([&] {
    const int column = glp_add_cols(problem_, 1);
    glp_set_col_bnds(problem_, column, GLP_LO, 0.0, 0.0);
    glp_set_obj_coef(problem_, column, cost);
    glp_set_mat_col(problem_, column, count, row, value);
    glp_set_col_stat(problem_, column, start ? GLP_BS : GLP_NL);
    if (start) glp_set_row_stat(problem_, row[1], GLP_NL);
  });
}

void LinearProgram::allow(std::size_t column, bool allowed) {
  const int j = index_of(column);
  const int kind = allowed ? GLP_LO : GLP_FX;
  if (alive()) behind_wall([&] { glp_set_col_bnds(problem_, j, kind, 0.0, 0.0); });
}

/// The slacks, but for rows that a starting column stands in for.
void LinearProgram::start_basis() {
  behind_wall([&] { glp_std_basis(problem_); });
  for (std::size_t j = 0; j < starting_.size() && alive(); ++j) {
    const int column = index_of(j);
    if (!starting_[j]) continue;
    behind_wall([&] {
      int row[2] = {0, 0};
      glp_get_mat_col(problem_, column, row, nullptr);
      glp_set_row_stat(problem_, row[1], GLP_NL);
      glp_set_col_stat(problem_, column, GLP_BS);
    });
  }
}

std::optional<LinearProgram::Solution> LinearProgram::solve(bool changed_limits) {
  glp_smcp settings;
  glp_init_smcp(&settings);
  settings.msg_lev = GLP_MSG_OFF;
  settings.it_lim = kMostIterations;
  bool solved = false;
  for (const bool again : {false, true}) {
    if (solved || !alive()) break;
    if (again) start_basis();
    settings.meth = changed_limits && !again ? GLP_DUALP : GLP_PRIMAL;
    behind_wall([&] {
      solved = glp_simplex(problem_, &settings) == 0 && glp_get_status(problem_) == GLP_OPT;
    });
  }
  count_iterations();
  if (!solved || !alive()) return std::nullopt;
  Solution solution;
  solution.values.resize(starting_.size());
  solution.prices.resize(rows_);
  double* value = solution.values.data();
  double* price = solution.prices.data();
  const int rows = static_cast<int>(rows_);
  const int columns = static_cast<int>(starting_.size());
  behind_wall([&] {
    for (int i = 1; i <= rows; ++i) price[i - 1] = glp_get_row_dual(problem_, i);
    for (int j = 1; j <= columns; ++j) value[j - 1] = glp_get_col_prim(problem_, j);
  });
  return solution;
}

std::optional<std::vector<int>> LinearProgram::solve_whole(const std::vector<int>& most,
                                                           IntegerLimits limits) {
  Watch watch{limits};
  glp_iocp settings;
  glp_init_iocp(&settings);
  settings.msg_lev = GLP_MSG_OFF;
  settings.presolve = GLP_ON;
  settings.br_tech = GLP_BR_DTH;
  settings.bt_tech = GLP_BT_BLB;
  settings.sr_heur = GLP_ON;
  settings.tol_int = 1e-6;
  settings.cb_func = watch_integer_search;
  settings.cb_info = &watch;
  std::vector<double> values(most.size(), 0.0);
  double* value = values.data();
  const int* upper = most.data();
  const int columns = static_cast<int>(most.size());
  bool found = false;
  if (alive()) {
    behind_wall([&] {
      for (int j = 1; j <= columns; ++j) {
        glp_set_col_kind(problem_, j, GLP_IV);
        glp_set_col_bnds(problem_, j, GLP_DB, 0.0, upper[j - 1]);
      }
      glp_intopt(problem_, &settings);  // stopped by its watch it says so; what it has counts
      found = glp_mip_status(problem_) == GLP_OPT || glp_mip_status(problem_) == GLP_FEAS;
      for (int j = 1; found && j <= columns; ++j) value[j - 1] = glp_mip_col_val(problem_, j);
    });
  }
  nodes_ += watch.nodes;
  count_iterations();
  if (!found || !alive()) return std::nullopt;
  std::vector<int> whole;
  for (const double v : values) whole.push_back(static_cast<int>(std::lround(v)));
  return whole;
}

void LinearProgram::count_iterations() {
  if (alive()) behind_wall([&] { iterations_ = glp_get_it_cnt(problem_); });
}

}  // namespace ribbay::detail
