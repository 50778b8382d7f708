#include <glpk.h>

#include <cmath>
#include <memory>

#include "support/peers/mixed_integer.hpp"

namespace leastwise::support {
namespace {

struct Deleter {
  void operator()(glp_prob* problem) const { glp_delete_prob(problem); }
};
using Problem = std::unique_ptr<glp_prob, Deleter>;

int kind_of_limits(double lower, double upper) {
  if (lower == upper) return GLP_FX;
  const bool low = std::isfinite(lower), high = std::isfinite(upper);
  return low && high ? GLP_DB : low ? GLP_LO : high ? GLP_UP : GLP_FR;
}

Problem loaded(const MixedInteger& program) {
  Problem problem(glp_create_prob());
  glp_prob* p = problem.get();
  glp_set_obj_dir(p, GLP_MIN);
  const int rows = static_cast<int>(program.rows.size());
  const int columns = static_cast<int>(program.columns.size());
  if (rows > 0) glp_add_rows(p, rows);
  if (columns > 0) glp_add_cols(p, columns);
  for (int j = 0; j < columns; ++j) {
    const Column& column = program.columns[static_cast<std::size_t>(j)];
    glp_set_col_bnds(p, j + 1, kind_of_limits(column.lower, column.upper), column.lower,
                     column.upper);
    glp_set_obj_coef(p, j + 1, column.cost);
    if (column.binary) glp_set_col_kind(p, j + 1, GLP_BV);
  }
  std::vector<int> index;
  std::vector<double> value;
  for (int i = 0; i < rows; ++i) {
    const Row& row = program.rows[static_cast<std::size_t>(i)];
    index.assign(1, 0);
    value.assign(1, 0);
    for (const auto& [column, coefficient] : row.entries) {
      index.push_back(column + 1);
      value.push_back(coefficient);
    }
    glp_set_mat_row(p, i + 1, static_cast<int>(row.entries.size()), index.data(), value.data());
    glp_set_row_bnds(p, i + 1, kind_of_limits(row.lower, row.upper), row.lower, row.upper);
  }
  return problem;
}

/// Solves the continuous problem at the tightest tolerances that GLPK accepts as sensible.
PeerAnswer tight(glp_prob* problem, std::size_t amounts) {
  PeerAnswer answer;
  glp_smcp settings;
  glp_init_smcp(&settings);
  settings.msg_lev = GLP_MSG_OFF;
  settings.tol_bnd = 1e-10;
  settings.tol_dj = 1e-10;
  settings.tol_piv = 1e-10;
  glp_scale_prob(problem, GLP_SF_AUTO);
  glp_adv_basis(problem, 0);
  settings.meth = GLP_DUALP;
  if (glp_simplex(problem, &settings) != 0) return answer;
  const int status = glp_get_status(problem);
  if (status == GLP_NOFEAS) answer.status = PeerStatus::infeasible;
  if (status != GLP_OPT) return answer;
  answer.status = PeerStatus::optimal;
  answer.cost = answer.searched_cost = glp_get_obj_val(problem);
  for (std::size_t i = 0; i < amounts; ++i)
    answer.amounts.push_back(glp_get_col_prim(problem, static_cast<int>(i) + 1));
  return answer;
}

}  // namespace

PeerAnswer solve_with_glpk(const MixedInteger& program, const PeerOptions& options) {
  glp_term_out(GLP_OFF);
  const Problem problem = loaded(program);
  glp_prob* p = problem.get();
  if (glp_get_num_bin(p) == 0) return tight(p, program.amounts);
  glp_iocp settings;
  glp_init_iocp(&settings);
  settings.msg_lev = GLP_MSG_OFF;
  settings.presolve = options.plain ? GLP_OFF : GLP_ON;
  settings.tol_int = 1e-9;
  settings.tol_obj = 1e-10;
  settings.mip_gap = 0;
  settings.tm_lim = static_cast<int>(options.seconds * 1000);
  PeerAnswer answer;
  if (options.plain) {
    glp_smcp root;
    glp_init_smcp(&root);
    root.msg_lev = GLP_MSG_OFF;
    root.meth = GLP_DUALP;
    if (glp_simplex(p, &root) != 0) return answer;
    if (glp_get_status(p) == GLP_NOFEAS) answer.status = PeerStatus::infeasible;
    if (glp_get_status(p) != GLP_OPT) return answer;
  }
  const int code = glp_intopt(p, &settings);
  if (code == GLP_ENOPFS) answer.status = PeerStatus::infeasible;
  if (code != 0) return answer;
  const int status = glp_mip_status(p);
  if (status == GLP_NOFEAS) answer.status = PeerStatus::infeasible;
  if (status != GLP_OPT) return answer;
  answer.status = PeerStatus::optimal;
  answer.cost = answer.searched_cost = glp_mip_obj_val(p);
  if (!options.refine) return answer;
  for (int j = static_cast<int>(program.amounts) + 1; j <= glp_get_num_cols(p); ++j) {
    const double at = std::round(glp_mip_col_val(p, j));
    glp_set_col_kind(p, j, GLP_CV);
    glp_set_col_bnds(p, j, GLP_FX, at, at);
  }
  PeerAnswer refined = tight(p, program.amounts);
  refined.searched_cost = answer.searched_cost;
  return refined;
}

}  // namespace leastwise::support
