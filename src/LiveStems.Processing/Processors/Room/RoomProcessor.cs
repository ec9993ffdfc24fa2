using LiveStems.Dsp;
using LiveStems.Dsp.Space;
using LiveStems.Processing.Contract;
using static LiveStems.Processing.Processors.Room.RoomParameters;

namespace LiveStems.Processing.Processors.Room;

/// <summary>A short room: <see cref="RoomReverberator"/>, with the dry sound beside it.</summary>
/// <remarks>
/// The dry sound passes without latency. The room blends by itself, so that a new one is mild; a slot's own blend is best left at
/// wet.
/// </remarks>
public sealed class RoomProcessor : Processor
{
    private RoomReverberator room = new(6, 48_000);
    private bool isFading;

    /// <summary>A room with every parameter at its default.</summary>
    public RoomProcessor()
        : base(RoomParameters.Description)
    {
    }

    /// <summary>Reverberation time at a frequency under the present settings, s.</summary>
    public double DecaySeconds(double frequencyHz) => RoomReverberator.DecaySeconds(Settings, frequencyHz);

    /// <summary>Lengths of the sixteen delay lines, frames; see <see cref="RoomReverberator.LineFrames"/>.</summary>
    public IReadOnlyList<int> LineFrames => room.LineFrames;

    /// <summary>Modes of both networks that share a hertz: frames of all delay lines over the sample rate.</summary>
    public double ModesPerHertz => LineFrames.Sum() / (double)Format.SampleRate;

    /// <inheritdoc/>
    protected override bool SegmentsFollowControlInterval => isFading;

    private RoomSettings Settings => new(
        Math.Min(1, 2 - Value(WetPercent) / 50),
        Math.Min(1, Value(WetPercent) / 50),
        Decibels.ToAmplitude(Value(EarlyDb)),
        Value(SpreadPercent) / 100,
        Value(WidthPercent) / 100,
        Value(Rt60Ms) / 1000,
        Value(Rt60Ms) / 1000 * (1 - Value(DampingPercent) / 100),
        Value(DampingHz),
        Value(LowCutHz));

    /// <inheritdoc/>
    protected override void OnPrepare() => room = new RoomReverberator(Value(SizeMetres), Format.SampleRate);

    /// <inheritdoc/>
    protected override void OnReset()
    {
        room.Jump(Settings, GetParameter(PreDelayMs));
        isFading = false;
    }

    /// <inheritdoc/>
    protected override void OnParametersMoved() => room.Move(Settings, ControlInterval);

    /// <inheritdoc/>
    protected override void OnControlStep()
    {
        // The pre-delay goes straight to where it was set and not along the glide, which would bend the pitch.
        room.MovePreDelay(GetParameter(PreDelayMs), GlideSteps * ControlInterval);
        isFading = room.IsFading;
    }

    /// <inheritdoc/>
    protected override void ProcessSegment(in StereoBlock segment)
    {
        for (int done = 0; done < segment.Frames; done += RoomReverberator.ChunkFrames)
        {
            StereoBlock chunk = segment.Slice(done, Math.Min(RoomReverberator.ChunkFrames, segment.Frames - done));
            room.Process(chunk.Left, chunk.Right, IntervalPosition + done, ControlInterval);
        }
    }

    /// <inheritdoc/>
    protected override void FlushTinyState() => room.FlushTinyState();
}
