using System.CommandLine;
using System.Runtime.CompilerServices;
using LiveStems.Albums;
using LiveStems.Analysis.Delivery;
using LiveStems.App.Quick;
using LiveStems.App.Terminal;
using LiveStems.App.Verbs;
using LiveStems.Engine.Comparing;
using LiveStems.Engine.Devices;
using LiveStems.Engine.Hosting;
using LiveStems.Engine.Hosting.Isolation;
using LiveStems.Files;
using LiveStems.Files.Native;
using LiveStems.View.Pictures;
using LiveStems.View.Window;

namespace LiveStems.App;

/// <summary>The executable: verbs and wiring only. Exit codes: 0 done, 1 a check found something, 2 bad input or use.</summary>
public static class Program
{
    private const int BadInput = 2;
    private const int Interrupted = 130;

    /// <summary>Runs the program on the process's own terminal.</summary>
    public static int Main(string[] arguments)
    {
        if (RuntimeFeature.IsDynamicCodeSupported)
        {
            if (arguments is [ProcessorRunner.Verb])
            {
                return End(OwnProcess.Run());
            }

            if (RenderVerb.WillUseSeveralThreads(arguments))
            {
                RenderWarmUp.Start();
            }
        }
        else if (QuickProgram.MustLeave(arguments))
        {
            return LeaveToTheWhole(arguments);
        }

        using CancellationTokenSource interruption = new();
        Console.CancelKeyPress += (_, pressed) =>
        {
            // The verb ends by itself and leaves nothing half done behind; whoever asks a second time means it.
            pressed.Cancel = !interruption.IsCancellationRequested;
            interruption.Cancel();
        };
        return End(Run(arguments, Console.Out, Console.Error, interruption.Token));
    }

    // Without code of others by returning; with it, whatever threads that has left running.
    private static int End(int exitCode)
    {
        if (RuntimeFeature.IsDynamicCodeSupported && OutsideLoader.HasLoaded)
        {
            ProgramEnd.End(exitCode);
        }

        return exitCode;
    }

    /// <summary>Runs one command.</summary>
    internal static int Run(string[] arguments, TextWriter output, TextWriter errors, CancellationToken interruption)
    {
        Processors.Forget();
        ParseResult parsed = AllVerbs.CreateFor(arguments, interruption).Parse(arguments);
        if (parsed.Errors.Count > 0)
        {
            string verb = parsed.CommandResult.Command is RootCommand ? string.Empty : parsed.CommandResult.Command.Name + " ";
            return Fail(errors, $"{parsed.Errors[0].Message.TrimEnd('.')}; see 'livestems {verb}--help'");
        }

        try
        {
            return parsed.Invoke(new InvocationConfiguration { Output = output, Error = errors, EnableDefaultExceptionHandler = false });
        }
        catch (Exception exception) when (exception is UsageException or AlbumException or AudioFileException or DeliveryException or AudioDeviceException or ComparisonException or PictureException or WindowException or HostingException)
        {
            return Fail(errors, exception.Message);
        }
        catch (OperationCanceledException)
        {
            errors.WriteLine("livestems: interrupted; nothing half done was left behind");
            return Interrupted;
        }
        catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
        {
            return Fail(errors, SystemFault.InWords(exception));
        }
    }

    private static int LeaveToTheWhole(string[] arguments)
    {
        try
        {
            return QuickProgram.LeaveToTheWhole(arguments);
        }
        catch (IOException fault)
        {
            return Fail(Console.Error, fault.Message);
        }
    }

    private static int Fail(TextWriter errors, string message)
    {
        errors.WriteLine("livestems: " + PlainText.Of(message));
        return BadInput;
    }
}
