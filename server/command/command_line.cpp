#include "server/command/command_line.h"

#include <CLI/CLI.hpp>
#include <charconv>
#include <cmath>
#include <map>

#include "common/exchange/pairing.h"
#include "common/version.h"
#include "server/command/shed_link.h"
#include "server/http/endpoint.h"

namespace swardwalk::server {
namespace {

constexpr const char* about =
    "The shed: takes what the tablets saw of a course's greens, and answers what closes by "
    "itself and what to mend.";

/// Texts as they were typed; what they mean is checked after parsing.
struct Typed {
  std::string on;
  std::string from;
  std::string format = "text";
  std::string units = "metric";
};

void addVersion(CLI::App& app) {
  app.add_flag_callback(
      "--version",
      [] { throw CLI::CallForVersion(std::string("swardwalk-server ") + versionText, 0); },
      "Print the version");
}

void addData(CLI::App& command, CommandLine& line) {
  command.add_option("--data", line.data, "Directory of the course on this machine")
      ->required()
      ->type_name("DIR");
}

void addCommon(CLI::App& command, Typed& typed, bool knowsDay) {
  if (knowsDay) {
    command.add_option("--on", typed.on, "The day that counts as today (default: today)")
        ->type_name("DATE");
  }
  command.add_option("--format", typed.format, "How results are printed")
      ->check(CLI::IsMember({"text", "json", "csv"}))
      ->type_name("text|json|csv");
  command.add_option("--units", typed.units, "Units of texts; JSON and CSV are always SI")
      ->check(CLI::IsMember({"metric", "imperial"}))
      ->type_name("metric|imperial");
  addVersion(command);
}

CLI::App* addCommand(CLI::App& app, CommandLine& line, Typed& typed, Command command,
                     const char* name, const char* what, bool knowsDay = true) {
  CLI::App* sub = app.add_subcommand(name, what);
  addData(*sub, line);
  addCommon(*sub, typed, knowsDay);
  sub->callback([&line, command] { line.command = command; });
  return sub;
}

void addPeople(CLI::App& app, CommandLine& line, Typed& typed) {
  CLI::App* people =
      addCommand(app, line, typed, Command::people, "people",
                 "Who may sign in to the review page: crew look, managers do everything", false);
  people->require_subcommand(1);
  const auto task = [&](const char* name, const char* what, PeopleTask which) {
    CLI::App* sub = people->add_subcommand(name, what)->fallthrough();
    sub->callback([&line, which] { line.peopleTask = which; });
    return sub;
  };
  const auto named = [&](CLI::App* sub) {
    sub->add_option("name", line.name, "How they sign in")->required()->type_name("NAME");
    return sub;
  };
  const auto withPassword = [&](CLI::App* sub) {
    sub->add_option("--password-file", line.passwordFile,
                    "Its first line is the password (default: asked for on the terminal)")
        ->type_name("FILE");
  };
  CLI::App* add = named(task("add", "Enter somebody", PeopleTask::add));
  add->add_option("--role", line.role, "What they may do")
      ->required()
      ->check(CLI::IsMember({"crew", "manager"}))
      ->type_name("crew|manager");
  withPassword(add);
  withPassword(named(
      task("password", "Change a password; they are signed out everywhere", PeopleTask::password)));
  named(task("remove", "Remove somebody; they are signed out everywhere", PeopleTask::remove));
  task("list", "Name them", PeopleTask::list);
}

void describe(CLI::App& app, CommandLine& line, Typed& typed) {
  app.require_subcommand(1);
  addVersion(app);

  CLI::App* serve = addCommand(
      app, line, typed, Command::serve, "serve",
      "Open the shed: server and review page. On a loopback address it is for this machine; on "
      "any other it is encrypted and lets in only who is known");
  serve->add_option("--listen", line.listen, "Where to listen; port 0 takes a free one")
      ->type_name("HOST:PORT");
  serve->get_option("--data")->required(false);
  serve->add_option("--config", line.config, "TOML file; these options go before what it says")
      ->type_name("FILE");
  serve->add_option("--log-level", line.logLevel, "What the log is told (default: info)")
      ->check(CLI::IsMember({"debug", "info", "warning", "error"}))
      ->type_name("debug|info|warning|error");
  serve->add_flag("--guarded", line.guarded,
                  "Encrypt and let in only who is known on a loopback address, too");
  CLI::Option* key =
      serve->add_option("--key", line.key, "Key of the certificate, PEM")->type_name("FILE");
  CLI::Option* certificate =
      serve->add_option("--certificate", line.certificate, "Certificate, PEM (default: its own)")
          ->type_name("FILE");
  certificate->needs(key);
  key->needs(certificate);

  CLI::App* take = addCommand(app, line, typed, Command::import, "import",
                              "Take course files (GeoJSON) and record lines");
  take->add_option("files", line.files, "Files to take")->required()->type_name("FILE");
  take->add_flag("--skip-bad", line.skipBad, "Take the good features although some are refused");

  CLI::App* give =
      addCommand(app, line, typed, Command::exportAs, "export", "Give everything back", false);
  give->add_option("--as", line.as, "records or geojson")
      ->required()
      ->check(CLI::IsMember({"records", "geojson", "gpx", "csv", "geopackage"}))
      ->type_name("FORMAT");
  give->add_option("--to", line.to, "File to write (default: standard output)")->type_name("FILE");

  CLI::App* meet =
      addCommand(app, line, typed, Command::exchange, "exchange",
                 "Exchange records with a shed or with a file on a stick; tries once", false);
  meet->add_option("--with", line.with, "http://HOST:PORT, https://HOST:PORT, or a file")
      ->required()
      ->type_name("ADDRESS");
  meet->add_option("--fingerprint", line.fingerprint,
                   "Fingerprint that an https shed shows when it starts; remembered")
      ->type_name("HEX");
  meet->add_option("--code", line.code, "Pairing code that the shed shows: pairs first")
      ->type_name("CODE");
  meet->add_option("--device", line.device,
                   "With --code: how the shed calls this device (default: this machine's name)")
      ->type_name("NAME");

  addCommand(app, line, typed, Command::accept, "accept", "Take an origin that nobody vouched for")
      ->add_option("origin", line.origin, "The origin, or its first 8 or more digits")
      ->required()
      ->type_name("ORIGIN");

  addCommand(app, line, typed, Command::pair, "pair",
             "Show a code with which one device is let in within ten minutes", false)
      ->add_option("--qr", line.qr, "Draw address, fingerprint and code into this file (SVG)")
      ->type_name("FILE");
  addCommand(app, line, typed, Command::devices, "devices", "List the devices that exchange",
             false);
  addCommand(app, line, typed, Command::shutOut, "shut-out",
             "Let a lost device in no more; what it delivered stays", false)
      ->add_option("device", line.device, "Its name, or 8 or more digits of its origin")
      ->required()
      ->type_name("DEVICE");

  addPeople(app, line, typed);

  addCommand(app, line, typed, Command::progress, "progress", "Infill of every patch and green");
  addCommand(app, line, typed, Command::plan, "plan",
             "What to mend with how much, and what to order");
  addCommand(app, line, typed, Command::round, "round", "What to look at first, in walking order")
      ->add_option("--from", typed.from, "Where one stands, degrees")
      ->type_name("LAT,LON");
  CLI::App* size = app.add_subcommand(
      "measure", "Areas of outlines and tracks in GeoJSON, GPX, NMEA logs and CSV");
  addCommon(*size, typed, true);
  size->add_option("files", line.files, "Files to measure")->required()->type_name("FILE");
  size->callback([&line] { line.command = Command::measure; });

  addCommand(app, line, typed, Command::backup, "backup",
             "Copy the journal into one file, also while serve runs, and check the copy", false)
      ->add_option("--to", line.to, "File to write")
      ->required()
      ->type_name("FILE");
  addCommand(app, line, typed, Command::restore, "restore",
             "Put a backup in the place of the journal, which is kept; serve must not run", false)
      ->add_option("--from", line.backup, "File that backup wrote")
      ->required()
      ->type_name("FILE");
  addCommand(app, line, typed, Command::check, "check",
             "Is the journal whole, is the state what the records say? Writes nothing", false);
  addCommand(app, line, typed, Command::rescue, "rescue",
             "Save what can be read of a damaged journal into a new one", false)
      ->add_option("--to", line.to, "Directory of the new journal")
      ->required()
      ->type_name("NEWDIR");
  addCommand(app, line, typed, Command::erase, "erase",
             "Erase a record's text or a person's name, here and wherever records go; for good",
             false)
      ->add_option("id", line.id,
                   "8 or more digits of a record's digest, ORIGIN:NUMBER, or a person's id or name")
      ->required()
      ->type_name("ID");
  addCommand(app, line, typed, Command::bundle, "bundle",
             "Pack what is needed to find a fault, without names, places or texts", false)
      ->add_option("--to", line.to, "File to write")
      ->required()
      ->type_name("FILE");
}

/// "40.00021,-30.00017"
Result<geo::Position> parsePlace(std::string_view text) {
  const auto wrong = [&] {
    return fail(FailureKind::invalid, "", "'" + std::string(text) + "' is no place",
                "write latitude and longitude in degrees, such as 40.00021,-30.00017");
  };
  const std::size_t comma = text.find(',');
  if (comma == std::string_view::npos) return wrong();
  geo::Position place;
  const auto read = [](std::string_view digits, double& degrees, double most) {
    const auto [end, error] =
        std::from_chars(digits.data(), digits.data() + digits.size(), degrees);
    return error == std::errc() && end == digits.data() + digits.size() &&
           std::abs(degrees) <= most;
  };
  if (!read(text.substr(0, comma), place.latitude_deg, 90.0) ||
      !read(text.substr(comma + 1), place.longitude_deg, 180.0)) {
    return wrong();
  }
  return place;
}

EarlyEnd wrongUsage(std::string what) {
  for (char& c : what) {
    if (c == '\n') c = ' ';
  }
  while (!what.empty() && (what.back() == ' ' || what.back() == '.')) what.pop_back();
  return {2, "swardwalk-server: " + what + "; see --help\n"};
}

/// The help of the command that was named, else of the whole program.
std::string helpOf(CLI::App& app) {
  for (CLI::App* sub : app.get_subcommands()) return sub->help();
  return app.help();
}

}  // namespace

std::variant<CommandLine, EarlyEnd> parseCommandLine(int argc, const char* const* argv) {
  CommandLine line;
  Typed typed;
  CLI::App app(about, "swardwalk-server");
  describe(app, line, typed);
  try {
    app.parse(argc, argv);
  } catch (const CLI::CallForHelp&) {
    return EarlyEnd{0, helpOf(app)};
  } catch (const CLI::CallForAllHelp&) {
    return EarlyEnd{0, helpOf(app)};
  } catch (const CLI::CallForVersion& version) {
    return EarlyEnd{0, std::string(version.what()) + "\n"};
  } catch (const CLI::ParseError& error) {
    return wrongUsage(error.what());
  }

  // What is missing here may stand in there.
  const bool hasConfig = !line.config.empty();
  if (line.data.empty() && line.command != Command::measure && !hasConfig)
    return wrongUsage("--data needs a directory");
  if (!typed.on.empty()) {
    const auto date = measure::parseDate(typed.on);
    if (!date) return wrongUsage("--on " + date.error().text());
    line.on = *date;
  }
  if (!typed.from.empty()) {
    const auto place = parsePlace(typed.from);
    if (!place) return wrongUsage("--from " + place.error().text());
    line.from = *place;
  }
  line.format = typed.format == "json"  ? Format::json
                : typed.format == "csv" ? Format::csv
                                        : Format::text;
  if (typed.units == "imperial") line.units = measure::UnitSystem::imperial;
  if (!line.code.empty() && !exchange::parseCode(line.code)) {
    return wrongUsage("--code needs a pairing code, such as 7K2M-Q9TX");
  }
  if (!line.code.empty() && !isShedAddress(line.with)) {
    return wrongUsage("--code is for a shed with an address");
  }
  if (line.command == Command::serve && line.listen.empty() && !hasConfig) {
    return wrongUsage("--listen is required");
  }
  if (line.command == Command::serve && !line.listen.empty()) {
    if (const auto endpoint = parseEndpoint(line.listen); !endpoint) {
      return wrongUsage("--listen " + endpoint.error().text());
    }
  }
  return line;
}

}  // namespace swardwalk::server
