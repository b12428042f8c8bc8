#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "common/geo/position.h"
#include "common/measure/instant.h"
#include "common/measure/write.h"

namespace swardwalk::server {

enum class Command {
  serve,
  import,
  exportAs,
  exchange,
  accept,
  pair,
  devices,
  shutOut,
  people,
  progress,
  plan,
  round,
  measure,
  check,
  backup,
  restore,
  rescue,
  erase,
  bundle
};
enum class PeopleTask { list, add, password, remove };
enum class Format { text, json, csv };

/// What somebody asked for, checked as far as it can be without touching a file.
struct CommandLine {
  Command command = Command::check;
  std::string data;                ///< --data
  std::string listen;              ///< serve
  std::vector<std::string> files;  ///< import, measure
  bool skipBad = false;            ///< import
  std::string as;                  ///< export
  std::string to;                  ///< export (empty: standard output), rescue, bundle, backup
  std::string backup;              ///< restore: the file to restore from
  std::string certificate;         ///< serve: file; empty: the directory's own
  std::string key;                 ///< serve: file of the certificate's key
  std::string config;              ///< serve: file; says what the command line does not
  std::string logLevel;            ///< serve: debug, info, warning or error; empty: info
  bool guarded = false;            ///< serve: let in only who is known, also on loopback
  std::string with;                ///< exchange
  std::string fingerprint;         ///< exchange: of the shed's certificate, as typed
  std::string code;                ///< exchange: pairs first; as typed
  std::string qr;                  ///< pair: file to draw the picture into; empty: none
  std::string device;              ///< shut-out: its name or origin; exchange: its own name
  std::string origin;              ///< accept
  std::string id;                  ///< erase: a record or a person
  PeopleTask peopleTask = PeopleTask::list;
  std::string name;                   ///< people
  std::string role;                   ///< people add: crew or manager
  std::string passwordFile;           ///< people: its first line is the password
  std::optional<geo::Position> from;  ///< round: where one stands
  std::optional<measure::Date> on;    ///< the day that counts as today
  Format format = Format::text;
  measure::UnitSystem units = measure::UnitSystem::metric;
};

/// The program ends here: help, version, or wrong usage.
struct EarlyEnd {
  int status = 0;
  std::string text;  ///< to standard output for status 0, else to standard error
};

std::variant<CommandLine, EarlyEnd> parseCommandLine(int argc, const char* const* argv);

}  // namespace swardwalk::server
