#include "server/page_files.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <regex>

#include "server/http/session.h"
#include "server/shed/router.h"

namespace swardwalk::server {
namespace {

using testing::HasSubstr;
using testing::Not;

Response get(const std::string& target) {
  Request request;
  request.host = "localhost";
  request.target = target;
  return answerWithoutShed(request).value_or(failureResponse(599, "none", "no answer"));
}

std::vector<std::string> matches(const std::string& text, const std::string& pattern) {
  const std::regex expression(pattern);
  std::vector<std::string> found;
  for (std::sregex_iterator at(text.begin(), text.end(), expression), end; at != end; ++at) {
    found.push_back((*at)[1]);
  }
  return found;
}

TEST(Page, FindsEveryFileThatItNames) {
  const Response index = get("/");
  ASSERT_EQ(index.status, 200U);
  const auto named = matches(index.body, "(?:src|href)=\"(/assets/[^\"]+)\"");
  EXPECT_GE(named.size(), 5U);
  for (const std::string& address : named) {
    const Response file = get(address);
    EXPECT_EQ(file.status, 200U) << address;
    const std::string folder = address.substr(0, address.rfind('/') + 1);
    for (const std::string& other : matches(file.body, "from '\\./([a-z]+\\.js)'")) {
      EXPECT_EQ(get(folder + other).status, 200U) << address << " wants " << other;
    }
  }
}

TEST(Page, AsksNobodyElseForAnything) {
  for (const char* name :
       {"index.html", "app.js", "elements.js", "symbols.js", "overview.js", "green.js", "plan.js",
        "repairs.js", "choose.js", "send.js", "door.js", "style.css", "plan.css"}) {
    const PageFile* file = pageFile(name);
    ASSERT_NE(file, nullptr) << name;
    // The only address in them is a name, that of SVG's elements.
    std::string text(file->bytes);
    text = std::regex_replace(text, std::regex("http://www.w3.org/2000/svg"), "");
    EXPECT_THAT(text, Not(HasSubstr("http:"))) << name;
    EXPECT_THAT(text, Not(HasSubstr("https:"))) << name;
    EXPECT_THAT(text, Not(HasSubstr("innerHTML"))) << name;
  }
}

TEST(Page, ForbidsWhatIsNotItsOwn) {
  const Response index = get("/");
  const std::string wire = writeHead(index, true);
  EXPECT_THAT(wire, HasSubstr("Content-Security-Policy: default-src 'none'"));
  EXPECT_THAT(wire, Not(HasSubstr("unsafe")));
  EXPECT_THAT(index.body, Not(HasSubstr("style=\"")));
  EXPECT_THAT(index.body, Not(HasSubstr("onclick")));
}

TEST(Page, KeepsFilesOfAnotherBuildApart) {
  EXPECT_EQ(get("/assets/0123456789abcdef/app.js").status, 404U);
  EXPECT_EQ(get("/assets/").status, 404U);
  EXPECT_EQ(get("/assets/app.js").status, 404U);
}

TEST(Page, BringsItsOwnFont) {
  const PageFile* font = pageFile("B612-Regular.otf");
  ASSERT_NE(font, nullptr);
  EXPECT_EQ(font->bytes.substr(0, 4), "OTTO");  // OpenType with CFF outlines
}

}  // namespace
}  // namespace swardwalk::server
