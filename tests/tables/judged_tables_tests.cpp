#include "tables/judged_tables.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;

TEST_CASE("gaps, fits and felt are listed when there are some", "[tables][judgement]") {
  const Layout layout;
  CHECK(judged_tables(layout, {}).empty());

  Judgement judgement;
  JudgedGap gap;
  gap.a = "box/a";
  gap.b = "box/b";
  gap.axis = 1;
  gap.nominal = 3.0;
  gap.required = 2.7;
  gap.stack = make_stack({{"saw", "box/a", 0.4}, {"assembly", "box/b", 0.3}});
  judgement.gaps = {gap};
  VanFit fit;
  fit.module = "box";
  fit.part = "box/a";
  fit.place = "vehicle/ribs.left";
  fit.body = "vehicle/rib.left_2";
  fit.verdict = FitVerdict::scribe;
  fit.gap = 2.0;
  fit.uncertainty = 3.0;
  fit.allowance = 5.0;
  judgement.van = {fit};
  judgement.rattles = {{"box: A", "box: B", 0.5, 2, 300.0, 18.0, 10800.0, {"a + b", "a + c"}}};

  const OutputFiles files = judged_tables(layout, judgement);

  REQUIRE(files.size() == 3);
  CHECK(files[0].path == "shop/gaps.csv");
  CHECK(files[0].bytes ==
        "kind,named,a,b,axis,drawn_mm,required_mm,worst_case_mm,least_in_worst_case_mm,rss_mm,"
        "least_by_rss_mm,verdict,largest,share_percent,contributors,x_mm,y_mm,z_mm\r\n"
        "between modules,,box/a,box/b,across the van,3,2.7,0.7,2.3,0.5,2.5,unlikely to fit,"
        "saw of box/a,64,saw of box/a 0.4; assembly of box/b 0.3,0,0,0\r\n");
  CHECK(files[1].path == "shop/van_fit.csv");
  CHECK(files[1].bytes ==
        "module,at,part,van,verdict,drawn_mm,survey_off_by_mm,bow_mm,allowance_mm,measure,x_mm,"
        "y_mm,z_mm\r\n"
        "box,vehicle/ribs.left,box/a,vehicle/rib.left_2,scribe,2,3,,5,,0,0,0\r\n");
  CHECK(files[2].path == "shop/rattle.csv");
  CHECK(files[2].bytes ==
        "a,b,places,least_gap_mm,length_mm,width_mm,area_cm2,ids\r\n"
        "box: A,box: B,2,0.5,300,18,108,a + b; a + c\r\n");
}
