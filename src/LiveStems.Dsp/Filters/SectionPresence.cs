namespace LiveStems.Dsp.Filters;

/// <summary>Which sections of a band are in the cascade, and which of them are on their way out because nobody hears them.</summary>
internal sealed class SectionPresence(StereoCascade cascade, int firstSection)
{
    private readonly State[] states = new State[MatchedDesign.MaximumSections];

    private enum State
    {
        In,
        Leaving,
        Out,
    }

    /// <summary>True for a section that is heard and stays.</summary>
    public bool IsIn(int section) => states[section] == State.In;

    /// <summary>True for a section that is to fade out.</summary>
    public bool IsLeaving(int section) => states[section] == State.Leaving;

    /// <summary>Takes all sections out of the cascade; those that come next are in.</summary>
    public void Clear(int count)
    {
        for (int i = 0; i < count; i++)
        {
            cascade.Remove(firstSection + i);
            states[i] = State.In;
        }
    }

    /// <summary>
    /// Marks sections that change next to nothing as leaving. Returns whether there are any new ones.
    /// </summary>
    /// <param name="sections">The band.</param>
    /// <param name="farEnd">The band at the other end of its gain's travel; the same where there is none.</param>
    public bool MarkInaudible(ReadOnlySpan<StateVariableCoefficients> sections, ReadOnlySpan<StateVariableCoefficients> farEnd)
    {
        bool isAny = false;
        double left = SectionAudibility.InaudibleChange;
        for (int i = 0; i < sections.Length; i++)
        {
            double change = SectionAudibility.LargestChange(sections[i]);
            if (change <= left && farEnd[i] != sections[i])
            {
                change = Math.Max(change, SectionAudibility.LargestChange(farEnd[i]));
            }

            if (change > left)
            {
                continue;
            }

            left -= change;
            isAny |= states[i] == State.In;
            states[i] = states[i] == State.In ? State.Leaving : states[i];
        }

        return isAny;
    }

    /// <summary>Takes out of the cascade what has left.</summary>
    public void RemoveLeaving(int count)
    {
        for (int i = 0; i < count; i++)
        {
            if (states[i] == State.Leaving)
            {
                cascade.Remove(firstSection + i);
                states[i] = State.Out;
            }
        }
    }

    /// <summary>Puts back what was taken out, not heard yet.</summary>
    public void BringIn(ReadOnlySpan<StateVariableCoefficients> sections)
    {
        for (int i = 0; i < sections.Length; i++)
        {
            if (states[i] == State.Out)
            {
                cascade.Set(firstSection + i, sections[i].Faded(0));
            }

            states[i] = State.In;
        }
    }
}
