#include "server/command/config.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <signal.h>

#include "tests/server/child.h"
#include "tests/server/course.h"
#include "tests/server/folder.h"

namespace swardwalk::server {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::StartsWith;

class Configured : public testing::Test {
 protected:
  /// What `serve` would do by this text; the command line says what `line` says.
  Result<void> read(const std::string& text) {
    line.command = Command::serve;
    line.config = writeText(folder / "shed.toml", text);
    return readConfig(line);
  }

  std::string refusalOf(const std::string& text) {
    line = {};
    const auto done = read(text);
    return done ? std::string() : done.error().text();
  }

  TestFolder folder;
  CommandLine line;
};

TEST_F(Configured, SaysWhatTheCommandLineDoesNot) {
  ASSERT_TRUE(
      read("# the shed\ndata = \"course\"\nlisten = \"0.0.0.0:8137\"\nguarded = true\n"
           "certificate = \"/etc/a.pem\"\nkey = '/etc/a.key'\nlog_level = \"debug\"\n"));
  EXPECT_EQ(line.data, folder / "course");
  EXPECT_EQ(line.listen, "0.0.0.0:8137");
  EXPECT_TRUE(line.guarded);
  EXPECT_EQ(line.certificate, "/etc/a.pem");
  EXPECT_EQ(line.key, "/etc/a.key");
  EXPECT_EQ(line.logLevel, "debug");
}

TEST_F(Configured, TheCommandLineGoesBefore) {
  line.data = "elsewhere";
  line.logLevel = "error";
  line.certificate = "mine.pem";
  line.key = "mine.key";
  ASSERT_TRUE(
      read("data = \"course\"\nlisten = \"0.0.0.0:8137\"\nlog_level = \"debug\"\n"
           "certificate = \"a.pem\"\nkey = \"a.key\"\n"));
  EXPECT_EQ(line.data, "elsewhere");
  EXPECT_EQ(line.logLevel, "error");
  EXPECT_EQ(line.certificate, "mine.pem");
  EXPECT_EQ(line.key, "mine.key");
}

TEST_F(Configured, WhatIsWrongIsSaidWithItsLine) {
  const std::string good = "data = \"d\"\nlisten = \"127.0.0.1:0\"\n";
  EXPECT_EQ(refusalOf(good), "");
  EXPECT_THAT(refusalOf(good + "lisen = \"x\"\n"),
              AllOf(HasSubstr("shed.toml, line 3"), HasSubstr("'lisen'"), HasSubstr("log_level")));
  EXPECT_THAT(refusalOf(good + "\nguarded = \"yes\"\n"),
              AllOf(HasSubstr("line 4"), HasSubstr("true or false")));
  EXPECT_THAT(refusalOf("data = 3\n"), HasSubstr("line 1: 'data' is a text"));
  EXPECT_THAT(refusalOf(good + "log_level = \"loud\"\n"),
              HasSubstr("line 3: 'log_level' is debug"));
  EXPECT_THAT(refusalOf(good + "data = \"e\"\n"), HasSubstr("line 3: this is no TOML"));
  EXPECT_THAT(refusalOf(good + "[data"), HasSubstr("line 3: this is no TOML"));
  EXPECT_THAT(refusalOf("data = \"d\"\n"), HasSubstr("'listen' is missing"));
  EXPECT_THAT(refusalOf("listen = \"127.0.0.1:0\"\n"), HasSubstr("'data' is missing"));
  EXPECT_THAT(refusalOf(good + "key = \"a.key\"\n"), HasSubstr("a certificate needs its key"));
}

TEST_F(Configured, ServeStartsByIt) {
  const std::string file = writeText(
      folder / "shed.toml", "data = \"course\"\nlisten = \"127.0.0.1:0\"\nlog_level = \"debug\"\n");
  Child shed({"serve", "--config", file});
  const std::string said = shed.readLine();
  ASSERT_THAT(said, StartsWith("Shed open at http://127.0.0.1:"));
  const auto port = static_cast<unsigned short>(std::stoi(said.substr(said.rfind(':') + 1)));
  get(port, "/health");
  shed.send(SIGTERM);
  EXPECT_THAT(shed.finish().err, HasSubstr("path=/health status=200"));
  EXPECT_TRUE(std::filesystem::exists(folder / "course/journal.sqlite"));
}

TEST_F(Configured, ServeSaysWhereItIsWrong) {
  const Ended gone = runServer({"serve", "--config", folder / "none.toml"});
  EXPECT_EQ(gone.status, 1);
  EXPECT_THAT(gone.err, HasSubstr("none.toml: there is no such file"));
  const std::string file =
      writeText(folder / "shed.toml", "data = \"course\"\nlisten = \"nowhere\"\n");
  const Ended wrong = runServer({"serve", "--config", file});
  EXPECT_EQ(wrong.status, 1);
  EXPECT_THAT(wrong.err, HasSubstr("nowhere"));
  EXPECT_EQ(runServer({"serve", "--data", folder / "d"}).status, 2);
  EXPECT_EQ(runServer({"serve", "--listen", "127.0.0.1:0"}).status, 2);
}

TEST(StartUp, AClockBeforeTheLastRecordIsSaid) {
  const TestFolder folder;
  const std::string data = folder / "d";
  const std::string file = brindlewater;
  // Imported at noon of a day that this machine's clock has not reached, or has.
  ASSERT_EQ(runHere({"import", "--data", data.c_str(), file.c_str()}).status, 0);
  const Printed refused = [&] {
    std::vector<const char*> words{"swardwalk-server", "serve",    "--data",
                                   data.c_str(),       "--listen", "127.0.0.1:0"};
    const auto parsed = parseCommandLine(static_cast<int>(words.size()), words.data());
    std::ostringstream out;
    std::ostringstream err;
    Console console{out, err, [] { return std::int64_t{1807531200000 - 86'400'000}; }};
    const int status = run(std::get<CommandLine>(parsed), console);
    return Printed{status, out.str(), err.str()};
  }();
  EXPECT_EQ(refused.status, 1);
  EXPECT_EQ(refused.out, "");
  EXPECT_THAT(refused.err, AllOf(HasSubstr("2027-04-11T12:00:00+00:00"),
                                 HasSubstr("2027-04-12T12:00:00"), HasSubstr("set the clock")));
}

TEST(StartUp, ADirectoryThatCannotBeMadeIsSaid) {
  const TestFolder folder;
  const std::string file = writeText(folder / "file", "x");
  const Ended refused = runServer({"serve", "--data", file + "/d", "--listen", "127.0.0.1:0"});
  EXPECT_EQ(refused.status, 1);
  EXPECT_THAT(refused.err, AllOf(HasSubstr(file), HasSubstr("name a directory")));
}

}  // namespace
}  // namespace swardwalk::server
