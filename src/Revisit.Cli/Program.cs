using System.CommandLine;
using Revisit.Cli.Commands;

var root = new RootCommand("""
    Revisit: which recent installs to go back to first, what correction they will need, which crew habits keep producing
    them, whether corrections worked, and what it all costs.

    Exit codes: 0 done; 1 the command line is wrong; 2 something you can mend (the message says what); 3 an unexpected fault.
    """)
{
    DemoCommand.Make(),
    RunCommand.Make(),
    ReportCommand.Make(),
    OpenCommand.Make(),
    IngestCommand.Make(),
    DiagnoseCommand.Make(),
    ProfileCommand.Make(),
    SqlCommand.Make(),
    CheckCommand.Make(),
    ReadingCommand.Make(),
    CrewsCommand.Make(),
    ForecastCommand.Train(),
    ForecastCommand.Make(),
    WorklistCommand.Make(),
    SimulateCommand.Make(),
    ScoreMethodCommand.Make(),
    ScoreForecastCommand.Make(),
};
return root.Parse(args).Invoke();
