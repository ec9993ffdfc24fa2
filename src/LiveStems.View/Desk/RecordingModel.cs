using System.Globalization;
using LiveStems.Analysis.Delivery;
using LiveStems.Engine.Devices;
using LiveStems.Engine.Live;
using LiveStems.Files;

namespace LiveStems.View.Desk;

/// <summary>
/// Recording what the monitor plays, as it is heard: band-listening, dim and all. Files are named by song and time and lie in
/// the album's folder, in one of their own.
/// </summary>
public sealed class RecordingModel : IDisposable
{
    /// <summary>Name of the folder in that of the album.</summary>
    public const string FolderName = "recordings";

    private const int LongestTitle = 80;

    private readonly AlbumDesk desk;
    private readonly List<(SoundRecording Recording, Task Completion)> ending = [];
    private RecordingTap? tap;
    private SoundRecording? running;

    internal RecordingModel(AlbumDesk desk) => this.desk = desk;

    /// <summary>True while it is recorded.</summary>
    public bool IsRunning => running is not null;

    /// <summary>How long it has been recorded, in seconds.</summary>
    public double Seconds => running?.Seconds ?? 0;

    /// <summary>True when the disk was too slow at some place of this recording; silence stands there.</summary>
    public bool HasGaps => running is { LostFrames: > 0 };

    /// <summary>The file that is or was recorded last; null before any.</summary>
    public string? FilePath { get; private set; }

    /// <summary>Starts or ends it. Null, or why nothing can be recorded.</summary>
    public string? Toggle()
    {
        if (running is null)
        {
            return Start();
        }

        Stop();
        return null;
    }

    /// <summary>Records from now on. Null, or why nothing can be recorded.</summary>
    public string? Start()
    {
        if (running is not null)
        {
            return null;
        }

        try
        {
            string folder = Directory.CreateDirectory(Path.Combine(desk.Folder, FolderName)).FullName;
            running = new SoundRecording(FreeName(folder), desk.Player.SampleRate);
        }
        catch (Exception fault) when (fault is AudioFileException or IOException or UnauthorizedAccessException)
        {
            return desk.Refuse($"nothing is recorded: {fault.Message}");
        }

        FilePath = running.FilePath;
        tap!.Begin(running);
        desk.Say(MessageKind.Remark, $"records what you hear to {FilePath}");
        return null;
    }

    /// <summary>Ends the recording; once its file is complete, that is said.</summary>
    public void Stop()
    {
        if (running is { } recording)
        {
            running = null;
            tap!.End();
            // However long the disk takes, the window does not wait for it.
            ending.Add((recording, Task.Run(recording.Complete)));
        }
    }

    /// <summary>Completes what is recorded; after the sound has ended.</summary>
    public void Dispose() => _ = End();

    /// <summary>Takes its place between the player and the device.</summary>
    internal IAudioRenderer Tap(IAudioRenderer source) => tap = new RecordingTap(source);

    internal void Update()
    {
        if (running?.Failure is not null)
        {
            Stop();
        }

        for (int i = ending.Count - 1; i >= 0; i--)
        {
            if (ending[i].Completion.IsCompleted)
            {
                SoundRecording recording = ending[i].Recording;
                ending.RemoveAt(i);
                Tell(recording);
                recording.Dispose();
            }
        }
    }

    /// <summary>Completes what is recorded, after the sound has ended. Null, or in one line what of it is lost.</summary>
    internal string? End()
    {
        Stop();
        List<string> failures = [];
        foreach ((SoundRecording recording, Task completion) in ending)
        {
            ((IAsyncResult)completion).AsyncWaitHandle.WaitOne();
            failures.AddRange(recording.Failure is { } failure ? [$"the recording has ended early: {failure}"] : []);
            recording.Dispose();
        }

        ending.Clear();
        return failures.Count == 0 ? null : string.Join("; ", failures);
    }

    private void Tell(SoundRecording recording)
    {
        if (recording.Failure is { } failure)
        {
            desk.Say(MessageKind.Trouble, $"the recording has ended: {failure}");
        }
        else
        {
            desk.Say(recording.LostFrames > 0 ? MessageKind.Trouble : MessageKind.Remark, recording.Summary);
        }
    }

    private string FreeName(string folder)
    {
        string title = desk.Song.Title.Length > LongestTitle ? desk.Song.Title[..LongestTitle] : desk.Song.Title;
        string name = $"{SafeFileName.From(title)} {DateTime.Now.ToString("yyyy-MM-dd HH.mm.ss", CultureInfo.InvariantCulture)}";
        string path = Path.Combine(folder, $"{name}.wav");
        // One that is not complete yet has its name as well.
        for (int number = 2; File.Exists(path) || ending.Exists(each => each.Recording.FilePath == path); number++)
        {
            path = Path.Combine(folder, $"{name} {number}.wav");
        }

        return path;
    }
}
