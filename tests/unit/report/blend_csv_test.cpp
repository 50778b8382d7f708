#include <doctest/doctest.h>
#include <leastwise/report.hpp>

#include <vector>

#include "sample_answers.hpp"

using namespace leastwise;

TEST_SUITE_BEGIN("csv");

TEST_CASE("a blend has a line for each portion and one for the binder") {
  CHECK(to_csv(samples::per_hectare_blend()) ==
        "status,material,form,kg_per_ha,kg_per_t,cost_per_ha,cost_per_t\n"
        "optimal,urea,granule,100,661.81336863,45,297.816015884\n"
        "optimal,map,granule,50,330.906684315,33,218.398411648\n"
        "optimal,zinc-oxide,powder,0.8,5.29450694904,2.48,16.412971542\n"
        "optimal,canola-oil,binder,0.3,1.98544010589,0.42,2.77961614825\n");
}

TEST_CASE("what the per-tonne basis does not define is an empty cell") {
  CHECK(to_csv(samples::per_tonne_blend()) ==
        "status,material,form,kg_per_ha,kg_per_t,cost_per_ha,cost_per_t\n"
        "optimal,urea,granule,,500,,210\n"
        "optimal,sop,granule,,500,,310\n");
}

TEST_CASE("a conflict has a line for each rule") {
  CHECK(to_csv(samples::conflict()) ==
        "status,rule,limit,shortfall,unit,source,detail\n"
        "infeasible,rate N min,120,28.0000004,kg/ha,beet.yaml:9:12,\n"
        "infeasible,total max,200,60.869565,kg/ha,beet.yaml:14:30,\n"
        "infeasible,apart urea / ammonium-nitrate,,,,,Together they turn to slurry.\n");
}

TEST_CASE("an unproved blend says so on every line") {
  CHECK(to_csv(samples::stopped()) ==
        "status,material,form,kg_per_ha,kg_per_t,cost_per_ha,cost_per_t\n"
        "stopped,urea,granule,,1000,,412.5\n");
}

TEST_CASE("commas, quotes and line breaks in names are quoted, and a formula is marked") {
  Blend blend = samples::per_tonne_blend();
  blend.portions[0].material = "urea, \"46\"";
  blend.portions[1].material = "=sop";
  const std::string csv = to_csv(blend);
  CHECK(csv.find("optimal,\"urea, \"\"46\"\"\",granule") != std::string::npos);
  CHECK(csv.find("optimal,'=sop,granule") != std::string::npos);
}

TEST_CASE("a table of materials joins the contents in one cell") {
  Material urea;
  urea.name = "urea";
  urea.family = "urea";
  urea.contains_percent = {{"N", 46}, {"N-urea", 46}};
  urea.sgn = 300;
  urea.source = "lot analysis, March";
  CHECK(to_csv(std::vector{urea}) ==
        "material,family,form,contains_percent,sgn,bulk_density_kg_per_m3,source\n"
        "urea,urea,granule,N 46; N-urea 46,300,,\"lot analysis, March\"\n");
}

TEST_SUITE_END();
