#include "base/markup.hpp"
#include "base/text_table.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;

TEST_CASE("rows stand in columns, numbers to the right", "[base][text]") {
  CHECK(lined_up({{"cut", "piece"}, {"10", "rail"}}, {.indent = "  ", .right = {true, false}}) ==
        "  cut  piece\n   10  rail\n");
  // Characters count, not bytes; rows may end early, and no line ends with a space.
  CHECK(lined_up({{"\xC3\xA9", "b"}, {"ab", "c"}, {"d"}, {}}) == "\xC3\xA9   b\nab  c\nd\n\n");
  // An empty column takes no room; what is wider than asked for is not waited for.
  CHECK(lined_up({{"a", "", "x"}, {"b", "", "y"}}) == "a  x\nb  y\n");
  CHECK(lined_up({{"a long text", "x"}, {"b", "y"}}, {.indent = "", .right = {}, .widest = 5}) ==
        "a long text  x\nb  y\n");
}

TEST_CASE("text is escaped for tags and attributes", "[base][text]") {
  CHECK(markup_escaped("a < b & \"c\" > d") == "a &lt; b &amp; &quot;c&quot; &gt; d");
  CHECK(markup_escaped(std::string("a\x01"
                                   "b\tc\n")) == "ab\tc\n");
}
