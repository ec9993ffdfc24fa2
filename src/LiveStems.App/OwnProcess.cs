using LiveStems.Analysis.Trusting;
using LiveStems.Engine.Hosting.Isolation;
using LiveStems.Files.Native;

namespace LiveStems.App;

/// <summary>The program as the process of an outside assembly.</summary>
internal static class OwnProcess
{
    /// <summary>Serves until its orders end.</summary>
    public static int Run()
    {
        // An interruption from the terminal reaches this process too; the program itself decides what ends.
        Console.CancelKeyPress += (_, pressed) => pressed.Cancel = true;
        using StreamReader orders = new(Console.OpenStandardInput());
        using StreamWriter answers = new(Console.OpenStandardOutput());

        // What outside code prints goes nowhere.
        Console.SetOut(TextWriter.Null);
        Console.SetIn(TextReader.Null);
        return ProcessorRunner.Run(orders, answers, ApartVetting.Answer, () => ProgramEnd.AtOnce(0));
    }
}
