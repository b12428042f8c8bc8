#include "server/door/people.h"

#include <termios.h>
#include <unistd.h>

#include <boost/json.hpp>
#include <iostream>

#include "server/command/commands.h"
#include "server/command/csv.h"
#include "server/command/files.h"
#include "server/door/passwords.h"

namespace swardwalk::server {
namespace {

/// Switches the terminal's echo off while this lives.
class Silence {
 public:
  Silence() {
    isTerminal_ = ::tcgetattr(STDIN_FILENO, &before_) == 0;
    if (!isTerminal_) return;
    termios silent = before_;
    silent.c_lflag &= ~static_cast<tcflag_t>(ECHO);
    ::tcsetattr(STDIN_FILENO, TCSAFLUSH, &silent);
  }
  ~Silence() {
    if (isTerminal_) ::tcsetattr(STDIN_FILENO, TCSAFLUSH, &before_);
  }
  Silence(const Silence&) = delete;
  Silence& operator=(const Silence&) = delete;

  bool isTerminal() const { return isTerminal_; }

 private:
  termios before_{};
  bool isTerminal_ = false;
};

/// The file's first line: an editor's line feed is no part of a password.
Result<std::string> passwordFrom(const std::string& file) {
  auto bytes = readFile(file);
  if (!bytes) return bytes;
  return bytes->substr(0, bytes->find_first_of("\r\n"));
}

Result<std::string> askedPassword(Console& console) {
  const Silence silence;
  if (!silence.isTerminal()) {
    return fail(FailureKind::invalid, "--password-file",
                "there is no terminal to ask for a password", "give a file whose first line it is");
  }
  std::string first;
  std::string second;
  console.err << "Password: " << std::flush;
  std::getline(std::cin, first);
  console.err << "\nOnce more: " << std::flush;
  std::getline(std::cin, second);
  console.err << '\n';
  if (first == second) return first;
  return fail(FailureKind::invalid, "password", "the two are not the same", "try again");
}

Result<std::string> digestFor(const CommandLine& line, Console& console) {
  auto password =
      line.passwordFile.empty() ? askedPassword(console) : passwordFrom(line.passwordFile);
  if (!password) return password;
  if (const auto trouble = passwordTrouble(*password, line.name)) {
    return fail(FailureKind::refused, "password", *trouble, "choose another one");
  }
  return passwordDigest(*password);
}

Result<void> change(const CommandLine& line, Console& console, People& people) {
  if (line.peopleTask == PeopleTask::remove) return people.remove(line.name);
  // Whether there is anything to do is known before anybody is asked for a password.
  const auto entry = people.named(line.name);
  if (!entry) return tl::unexpected(entry.error());
  const Person person{line.name, parseRole(line.role).value_or(Role::crew)};
  if (line.peopleTask == PeopleTask::add && *entry) return people.add(person, "");
  if (line.peopleTask == PeopleTask::password && !*entry) return people.setPassword(line.name, "");
  const auto digest = digestFor(line, console);
  if (!digest) return tl::unexpected(digest.error());
  return line.peopleTask == PeopleTask::add ? people.add(person, *digest)
                                            : people.setPassword(line.name, *digest);
}

void print(const CommandLine& line, Console& console, const std::vector<Person>& people) {
  boost::json::array listed;
  if (line.format == Format::csv) console.out << csvLine({"name", "role"});
  for (const Person& person : people) {
    const std::string role(roleName(person.role));
    if (line.format == Format::text) console.out << person.name << "  " << role << '\n';
    if (line.format == Format::csv) console.out << csvLine({person.name, role});
    listed.push_back(boost::json::object{{"name", person.name}, {"role", role}});
  }
  if (line.format == Format::json) {
    console.out << boost::json::serialize(boost::json::object{{"people", std::move(listed)}})
                << '\n';
  }
}

}  // namespace

int runPeople(const CommandLine& line, Console& console) {
  auto door = DoorFile::open(line.data);
  if (!door) return refuse(console, door.error());
  People people(**door);
  if (line.peopleTask != PeopleTask::list) {
    if (auto changed = change(line, console, people); !changed) {
      return refuse(console, changed.error());
    }
  }
  const auto all = people.all();
  if (!all) return refuse(console, all.error());
  print(line, console, *all);
  return 0;
}

}  // namespace swardwalk::server
