#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>

#include "common/exchange/photos.h"
#include "common/journal/digest.h"
#include "common/journal/photo_folder.h"
#include "server/limits.h"
#include "server/shed/router.h"
#include "tests/server/child.h"
#include "tests/server/course.h"
#include "tests/server/folder.h"
#include "tests/server/proxy.h"

// Pictures, over real connections, on sticks, in backups and for the page.
namespace swardwalk::server {
namespace {

using journal::PhotoFolder;
using testing::HasSubstr;
using testing::Not;

/// Of some size, and beginning as a JPEG file does.
std::string picture(std::size_t bytes) {
  std::string made = "\xFF\xD8\xFF";
  while (made.size() < bytes) made += static_cast<char>(made.size() * 7 + made.size() / 253);
  return made;
}

const std::string large = picture(700'000);
const std::string small = picture(9'000);

std::string field(const Response& response, std::string_view name) {
  for (const auto& [key, value] : response.fields) {
    if (key == name) return value;
  }
  return {};
}

class PhotoExchange : public testing::Test {
 protected:
  PhotoExchange() { EXPECT_EQ(runServer({"import", "--data", shedData, brindlewater}).status, 0); }

  /// Takes the picture as the tablet does: the bytes, then the record that names them.
  void takeOn(const std::string& data, const std::string& bytes, const std::string& smallBytes) {
    PhotoFolder photos(data);
    const auto name = photos.add(bytes);
    const auto smallName = photos.add(smallBytes);
    ASSERT_TRUE(name && smallName);
    const std::string file = writeText(
        folder / "photo.geojson",
        R"({"type":"FeatureCollection","features":[{"type":"Feature","geometry":null,"properties":
{"role":"photo","patch":"u2","seen":"2027-04-11T06:00:00Z","author":"Tilde","photo":")" +
            journal::hex(*name) + R"(","small":")" + journal::hex(*smallName) + R"("}}]})");
    ASSERT_EQ(runServer({"import", "--data", data, file}).status, 0);
  }

  Ended exchange(const std::string& data, const std::string& with) {
    return runServer({"exchange", "--data", data, "--with", with, "--format", "json"});
  }

  /// The writer of a file states its origin first.
  std::string originOf(const std::string& data) {
    const std::string lines = runServer({"export", "--data", data, "--as", "records"}).out;
    return lines.substr(lines.find("\"origin\":\"") + 10, 64);
  }

  /// A tablet that knows the course and has taken a picture since.
  void makeTablet() {
    const RunningShed shed(shedData);
    ASSERT_EQ(exchange(tablet, shed.address()).status, 0);
    takeOn(tablet, large, small);
  }

  void expectPictures(const std::string& data) {
    const PhotoFolder photos(data);
    EXPECT_TRUE(photos.read(journal::blake2b(large)) == large) << data;
    EXPECT_TRUE(photos.read(journal::blake2b(small)) == small) << data;
  }

  void damageLarge(const std::string& data) {
    writeText(PhotoFolder(data).fileOf(journal::blake2b(large)), "something else");
  }

  TestFolder folder;
  std::string shedData = folder / "shed";
  std::string tablet = folder / "tablet";
};

TEST_F(PhotoExchange, BringsPicturesToTheShedAfterTheRecordsAndOnce) {
  makeTablet();
  const RunningShed shed(shedData);
  const Ended first = exchange(tablet, shed.address());
  EXPECT_EQ(first.status, 0) << first.err;
  EXPECT_THAT(first.err, HasSubstr("2 photos sent"));
  EXPECT_LT(first.err.find("records sent"), first.err.find("photos sent"));
  expectPictures(shedData);
  const Ended second = exchange(tablet, shed.address());
  EXPECT_EQ(second.status, 0) << second.err;
  EXPECT_THAT(second.err, Not(HasSubstr("photos")));
}

TEST_F(PhotoExchange, ACutPictureLosesNoRecordAndGoesOnWhereItWasCut) {
  makeTablet();
  const RunningShed shed(shedData);
  Trouble trouble;
  trouble.cutQuestionAfter = 400'000;
  {
    Proxy proxy(shed.port(), trouble);
    const Ended cut = exchange(tablet, proxy.address());
    EXPECT_EQ(cut.status, 1);
    EXPECT_THAT(cut.err, HasSubstr("the records are through, but photos are not"));
  }
  EXPECT_THAT(bodyOf(get(shed.port(), "/api/greens/Upper")), Not(HasSubstr("Not Found")));
  const std::uint64_t have = PhotoFolder(shedData).have(journal::blake2b(large));
  EXPECT_GT(have, 200'000U);
  EXPECT_LT(have, large.size());
  Proxy measured(shed.port(), {});
  const Ended whole = exchange(tablet, measured.address());
  EXPECT_EQ(whole.status, 0) << whole.err;
  expectPictures(shedData);
  EXPECT_LT(measured.questionBytes(), large.size() - have + 5'000);
}

TEST_F(PhotoExchange, OneThatTheTabletHasDamagedIsSaidAndTheOthersGo) {
  makeTablet();
  damageLarge(tablet);
  const RunningShed shed(shedData);
  const Ended ended = exchange(tablet, shed.address());
  EXPECT_EQ(ended.status, 1);
  EXPECT_THAT(ended.err, HasSubstr("cannot be sent"));
  EXPECT_THAT(ended.err, HasSubstr("1 photos sent"));
  EXPECT_TRUE(PhotoFolder(shedData).holds(journal::blake2b(small)));
  EXPECT_FALSE(PhotoFolder(shedData).holds(journal::blake2b(large)));
  // The tablet's own check says so, too.
  const Ended check = runServer({"check", "--data", tablet});
  EXPECT_EQ(check.status, 1);
  EXPECT_THAT(check.out + check.err, HasSubstr(journal::hex(journal::blake2b(large))));
}

TEST_F(PhotoExchange, OneThatIsDamagedAtTheShedComesOnceMore) {
  makeTablet();
  const RunningShed shed(shedData);
  ASSERT_EQ(exchange(tablet, shed.address()).status, 0);
  damageLarge(shedData);
  const std::string target = "/photo/" + journal::hex(journal::blake2b(large));
  EXPECT_THAT(get(shed.port(), target), HasSubstr("HTTP/1.1 4"));
  EXPECT_THAT(exchange(tablet, shed.address()).err, HasSubstr("1 photos sent"));
  expectPictures(shedData);
  EXPECT_TRUE(bodyOf(get(shed.port(), target)) == large);
}

TEST_F(PhotoExchange, AStickCarriesThemBothWays) {
  makeTablet();
  const std::string stick = folder / "stick";
  const Ended given = exchange(tablet, stick);
  EXPECT_EQ(given.status, 0) << given.err;
  EXPECT_THAT(given.err, HasSubstr("2 photos sent"));
  const std::string other = folder / "other";
  EXPECT_EQ(exchange(other, stick).status, 0);
  // A stick vouches for nobody: the record of a stranger names nothing yet.
  EXPECT_FALSE(PhotoFolder(other).holds(journal::blake2b(large)));
  ASSERT_EQ(runServer({"accept", "--data", other, originOf(tablet)}).status, 0);
  const Ended taken = exchange(other, stick);
  EXPECT_THAT(taken.err, HasSubstr("2 photos received"));
  expectPictures(other);
}

TEST_F(PhotoExchange, AnErasedRecordTakesItsPicturesAlongEverywhere) {
  makeTablet();
  const std::string stick = folder / "stick";
  const RunningShed shed(shedData);
  ASSERT_EQ(exchange(tablet, shed.address()).status, 0);
  ASSERT_EQ(exchange(tablet, stick).status, 0);
  // The tablet's first record says who it is, the second one is the photo.
  const Ended erased = runServer({"erase", "--data", tablet, originOf(tablet) + ":2"});
  ASSERT_EQ(erased.status, 0) << erased.err;
  ASSERT_EQ(exchange(tablet, shed.address()).status, 0);
  ASSERT_EQ(exchange(tablet, stick).status, 0);
  // The shed looks when it is asked the next time.
  EXPECT_THAT(get(shed.port(), "/photo/" + journal::hex(journal::blake2b(large))),
              HasSubstr("HTTP/1.1 404"));
  for (const std::string& data : {tablet, shedData}) {
    EXPECT_TRUE(std::filesystem::is_empty(data + "/photos")) << data;
  }
}

TEST_F(PhotoExchange, AnExchangeThatBringsTheWishToEraseTakesThePictures) {
  makeTablet();
  const RunningShed shed(shedData);
  ASSERT_EQ(exchange(tablet, shed.address()).status, 0);
  ASSERT_EQ(runServer({"erase", "--data", shedData, originOf(tablet) + ":2"}).status, 0);
  ASSERT_EQ(exchange(tablet, shed.address()).status, 0);
  EXPECT_TRUE(std::filesystem::is_empty(tablet + "/photos"));
}

TEST_F(PhotoExchange, ABackupHoldsThemAndRestoringBringsThemBack) {
  makeTablet();
  const std::string backup = folder / "backup";
  ASSERT_EQ(runServer({"backup", "--data", tablet, "--to", backup}).status, 0);
  std::filesystem::remove_all(tablet);
  ASSERT_EQ(runServer({"restore", "--data", tablet, "--from", backup}).status, 0);
  expectPictures(tablet);
}

/// What the shed says to single requests.
class PhotoRoutes : public PhotoExchange {
 protected:
  PhotoRoutes() {
    takeOn(shedData, large, small);
    PhotoFolder photos(shedData);
    photos.drop(journal::blake2b(large));
    photos.drop(journal::blake2b(small));
    auto opened = Shed::open(shedData, [] { return std::int64_t{1807531200000}; });
    EXPECT_TRUE(opened);
    shed = std::move(*opened);
  }

  Response answerTo(const Request& request) {
    const Caller caller{Door::open, false, {}, {}};
    if (auto refusal = refuseByHeader(request, caller, request.body.size())) return *refusal;
    return handleRequest(*shed, request, caller);
  }

  Response send(const std::string& bytes, std::uint64_t from, std::uint64_t of,
                const std::string& body, const std::string& type = exchange::photoType) {
    Request request;
    request.method = Method::post;
    request.host = "localhost";
    request.target = exchange::writePhotoTarget({journal::blake2b(bytes), from, of});
    request.contentType = type;
    request.body = body;
    return answerTo(request);
  }

  Response look(const std::string& target, const std::string& known = "") {
    Request request;
    request.host = "localhost";
    request.target = target;
    request.etagKnown = known;
    return answerTo(request);
  }

  std::string addressOf(const std::string& bytes) {
    return "/photo/" + journal::hex(journal::blake2b(bytes));
  }

  std::unique_ptr<Shed> shed;
};

TEST_F(PhotoRoutes, APictureThatNoRecordNamesIsNotTaken) {
  const Response response = send("a stranger's", 0, 12, "a stranger's");
  EXPECT_EQ(response.status, 404U);
  EXPECT_THAT(response.body, HasSubstr("not_named"));
  EXPECT_FALSE(shed->photos().holds(journal::blake2b("a stranger's")));
}

TEST_F(PhotoRoutes, TheBytesOfAnotherPictureAreRefusedAndForgotten) {
  std::string wrong = small;
  wrong.back() ^= 1;
  const Response response = send(small, 0, wrong.size(), wrong);
  EXPECT_EQ(response.status, 400U);
  EXPECT_THAT(response.body, HasSubstr("wrong_digest"));
  EXPECT_EQ(send(small, 0, small.size(), small).status, 200U);
}

TEST_F(PhotoRoutes, NonsenseIsRefusedInWords) {
  EXPECT_EQ(send(small, 9'000, 10, "x").status, 400U);
  EXPECT_EQ(send(small, 0, journal::limits::photoBytes + 1, "x").status, 400U);
  EXPECT_EQ(send(small, 0, small.size(), small, "image/jpeg").status, 415U);
  const std::string much(exchange::limits::photoPartBytes + 1, 'x');
  EXPECT_EQ(send(small, 0, much.size(), much).status, 413U);
  Request request;
  request.method = Method::post;
  request.host = "localhost";
  request.contentType = exchange::photoType;
  for (const char* target : {"/photos/", "/photos/../journal.sqlite?from=0&of=1", "/photos/xy"}) {
    request.target = target;
    const Response response = answerTo(request);
    EXPECT_EQ(response.status, 400U) << target;
    EXPECT_THAT(response.body, HasSubstr("bad_photo"));
  }
}

TEST_F(PhotoRoutes, APartThatComesTwiceDoesNoHarm) {
  const std::string part = large.substr(0, 262'144);
  for (int i = 0; i < 2; ++i) {
    const Response response = send(large, 0, large.size(), part);
    EXPECT_EQ(response.status, 200U);
    EXPECT_EQ(response.body, R"({"have":262144})");
  }
}

TEST_F(PhotoRoutes, ThePageGetsAPictureWithItsTypeAndAsksAgainOnlyForItsTag) {
  EXPECT_EQ(look(addressOf(small)).status, 404U);
  ASSERT_EQ(send(small, 0, small.size(), small).status, 200U);
  const Response first = look(addressOf(small));
  EXPECT_EQ(first.status, 200U);
  EXPECT_EQ(first.contentType, "image/jpeg");
  EXPECT_TRUE(first.body == small);
  const Response again = look(addressOf(small), field(first, "ETag"));
  EXPECT_EQ(again.status, 304U);
  EXPECT_EQ(again.body, "");
  for (const char* target : {"/photo/", "/photo/../journal.sqlite", "/photo/xy"}) {
    EXPECT_EQ(look(target).status, 404U) << target;
  }
}

TEST_F(PhotoRoutes, APageThatIsNamedAsAPictureIsGivenAsBytesOnly) {
  const std::string page = "<script>alert(1)</script>";
  takeOn(shedData, page, small);
  const Response response = look(addressOf(page));
  EXPECT_EQ(response.status, 200U);
  EXPECT_EQ(response.contentType, "application/octet-stream");
}

TEST_F(PhotoRoutes, TheShedMissesWhatRecordsNameTheSmallOneFirst) {
  const auto missing = shed->missingPhotos({});
  ASSERT_TRUE(missing);
  ASSERT_EQ(missing->size(), 2U);
  EXPECT_EQ((*missing)[0].photo, journal::blake2b(small));
  EXPECT_EQ((*missing)[1].photo, journal::blake2b(large));
  ASSERT_EQ(send(large, 0, large.size(), large.substr(0, 100)).status, 200U);
  EXPECT_EQ((*shed->missingPhotos({}))[1].have, 100U);
}

}  // namespace
}  // namespace swardwalk::server
