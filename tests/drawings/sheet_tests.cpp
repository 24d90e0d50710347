#include "drawings/audit.hpp"
#include "drawings/sheet.hpp"
#include "xml_check.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;

TEST_CASE("pages have the trimmed sizes of ISO 216 and the borders of ISO 5457",
          "[drawings][sheet]") {
  struct Row {
    PageSize size;
    const char* name;
    double width, height;
  };
  // ISO 216 sizes; border 20 on the left and 10 elsewhere (ISO 5457, from memory).
  const auto row = GENERATE(values<Row>({{PageSize::a4, "A4", 210, 297},
                                         {PageSize::a3, "A3", 420, 297},
                                         {PageSize::a2, "A2", 594, 420},
                                         {PageSize::a1, "A1", 841, 594}}));
  const Drawing d = new_page(row.size, {});
  CHECK(d.format == row.name);
  CHECK(d.width == row.width);
  CHECK(d.height == row.height);
  CHECK(d.frame.lo.x == 20);
  CHECK(d.frame.lo.y == 10);
  CHECK(d.frame.hi.x == row.width - 10);
  CHECK(d.frame.hi.y == row.height - 10);
  CHECK(title_area(d).width() == 180);  // ISO 7200

  const std::string file = svg(d);
  CHECK(xml_fault(file).empty());
  const std::string w = rounded_text(row.width, 2);
  const std::string h = rounded_text(row.height, 2);
  CHECK(file.find("width=\"" + w + "mm\" height=\"" + h + "mm\" viewBox=\"0 0 " + w + " " + h +
                  "\"") != std::string::npos);
}

TEST_CASE("scales come from the series of ISO 5455", "[drawings][sheet]") {
  // ISO 5455: 1:1, 1:2, 1:5, 1:10, 1:20, 1:50, 1:100 and 2:1, 5:1, 10:1 (from memory).
  CHECK(scale_text(scale_below(1.9)) == "1:1");
  CHECK(scale_text(scale_below(2.0)) == "2:1");
  CHECK(scale_text(scale_below(0.99)) == "1:2");
  CHECK(scale_text(scale_below(0.3)) == "1:5");
  CHECK(scale_text(scale_below(0.1999)) == "1:10");
  CHECK(scale_text(scale_below(0.05)) == "1:20");
  CHECK(scale_text(scale_below(0.021)) == "1:50");
}

TEST_CASE("what a project calls itself cannot break the file", "[drawings][sheet]") {
  TitleBlock block;
  block.title = "<Rack> & \"Söhne\" \x01";
  block.number = "A&B<1>";
  const std::string file = svg(new_page(PageSize::a4, block));
  CHECK(xml_fault(file).empty());
  CHECK(file.find("&lt;Rack&gt; &amp; &quot;S") != std::string::npos);
}

TEST_CASE("the words of a page can be searched", "[drawings][sheet]") {
  TitleBlock block;
  block.title = "Drawer side";
  const std::string file = svg(new_page(PageSize::a4, block));
  const auto words = file.find(">Drawer side</text>");
  REQUIRE(words != std::string::npos);
  // They are not painted: the strokes are.
  CHECK(file.rfind("<g fill-opacity=\"0\"", words) != std::string::npos);
  CHECK(file.find("</g>", file.find("<g fill-opacity")) > words);
}

TEST_CASE("a table cuts short what does not fit", "[drawings][sheet]") {
  Drawing d = new_page(PageSize::a4, {});
  Table table{{{"Name", 20}, {"Qty", 12, Align::right}},
              {{"A name that is much too long for twenty millimetres", "12"}, {"Post", "4"}}};
  add_table(d, table, {30, 250});
  CHECK(audit(d).empty());
  CHECK(std::ranges::any_of(d.texts, [](const InkText& t) { return t.text.ends_with("…"); }));
}

TEST_CASE("dashed lines begin and end with a dash", "[drawings][sheet]") {
  Drawing d;
  d.width = d.height = 100;
  d.lines.push_back({{10, 50}, {60, 50}, {LineType::dashed, 0.25}});
  const std::string file = svg(d);
  const auto path = file.substr(file.find(" d=\"") + 4);
  CHECK(path.starts_with("M10 50L"));
  CHECK(path.substr(0, path.find('"')).ends_with("L60 50"));
  // ISO 128-2: dash 12 d and gap 3 d (from memory): 50 mm hold 13 or 14 dashes of 3 and gaps of
  // 0.75.
  const auto dashes = std::ranges::count(path.substr(0, path.find('"')), 'M');
  CHECK(dashes >= 13);
  CHECK(dashes <= 14);
}
