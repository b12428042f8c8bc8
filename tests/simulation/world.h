#pragma once

#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <ostream>
#include <string>
#include <vector>

#include "common/exchange/exchange.h"
#include "tests/simulation/machine.h"
#include "tests/simulation/random.h"

struct ZSTD_CCtx_s;

namespace swardwalk::simulation {

/// What goes wrong in a world, in percent or as a weight among its steps. Each seed draws its
/// own, most of them nothing: a world in which everything fails at once gets nowhere and
/// finds little.
struct Weather {
  unsigned lost = 0;
  unsigned cut = 0;
  unsigned doubled = 0;
  unsigned garbled = 0;
  unsigned late = 0;
  unsigned crash = 0;
  unsigned dieInStep = 0;
  unsigned failingDisk = 0;
  unsigned fullDisk = 0;
  unsigned backup = 0;
  unsigned copy = 0;
  unsigned lostKey = 0;
  unsigned clockJump = 0;
  unsigned builds = 0;
  unsigned stick = 0;
  unsigned forger = 0;
  unsigned smallBatches = 0;
  unsigned erasing = 0;
};

/// Several tablets and a shed, and what is under way between them, on one virtual clock.
/// Throws RuleBroken where a rule does not hold.
class World {
 public:
  /// `trace`: every step in words goes there; may be null.
  World(std::uint64_t seed, std::ostream* trace);
  ~World();

  /// Lives through the seed's steps.
  void live();
  /// All faults end, everybody meets, and everything must hold.
  void judge();

 private:
  struct Letter {
    enum class Kind { question, answer, giveUp } kind = Kind::question;
    std::size_t tablet = 0;
    std::uint64_t session = 0;
    std::uint64_t round = 0;
    std::string bytes;
    bool cut = false;
    std::uint64_t shedLives = 0;  ///< restores of the shed before it answered
  };
  /// A tablet's exchange under way; ends with its program.
  struct Session {
    std::uint64_t number = 0;
    std::uint64_t round = 0;
    std::unique_ptr<exchange::Asker> asker;
  };
  struct Tablet {
    std::unique_ptr<Machine> machine;
    std::optional<Session> session;
    std::optional<Machine::Image> backup;
  };

  // Steps.
  void step();
  void peopleWrite();
  void beginExchange();
  void crashSomebody();
  void backUpOrRestore();
  void copySomebody();
  void loseSomebodysKey();
  void jumpClock();
  void changeBuild();
  void passStick();
  void armDisk();
  void forge();
  void acceptSomebody();
  void eraseSomething();

  // The exchange.
  void ask(Tablet& tablet);
  void endSession(Tablet& tablet);
  void send(Letter letter);
  void deliver(Letter& letter);
  bool isOver(const Letter& letter) const;
  void answerQuestion(Letter& letter);
  void takeAnswer(Tablet& tablet, const Letter& letter);
  void checkMemory(Tablet& tablet);
  /// Compresses with little effort: the shipped way searches long for what nobody sends here.
  std::string pack(std::string_view lines);
  /// An answer of the shed to a question, or nothing where it cannot give one.
  std::optional<std::string> answerOf(const std::string& question);

  // The end.
  void heal();
  void meetUntilQuiet();
  bool meetOnce(Tablet& tablet);
  void acceptAll();
  void expectEqual();
  void expectWhole(Machine& machine);
  void expectErased(Machine& machine);
  void expectOwnBranch(Machine& machine);

  Machine& anyMachine();
  Tablet& anyTablet() { return tablets_[random_.below(tablets_.size())]; }
  void drop(Tablet& tablet) { tablet.session.reset(); }
  void dropSessionOf(const Machine& machine);
  void addTablet();

  template <class... Values>
  void say(const char* format, const Values&... values);

  std::uint64_t seed_;
  std::ostream* trace_;
  Random random_;
  Weather weather_;
  journal::VirtualVfs vfs_;
  std::unique_ptr<Machine> shed_;
  std::optional<Machine::Image> shedBackup_;
  std::uint64_t shedLives_ = 0;
  std::vector<Tablet> tablets_;
  std::multimap<std::int64_t, Letter> mail_;
  std::int64_t now_ = 0;  ///< the world's clock, ms
  std::uint64_t sessions_ = 0;
  std::uint64_t steps_ = 0;
  std::vector<journal::Head> forged_;
  struct FreePacker {
    void operator()(ZSTD_CCtx_s* context) const;
  };
  std::unique_ptr<ZSTD_CCtx_s, FreePacker> packer_;
};

}  // namespace swardwalk::simulation
